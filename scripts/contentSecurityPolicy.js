/** Of the page with the embedded sheet: nothing but its own origin. The sheet and the pane set styles from script, hence the one exception. */
export const EMBEDDED_POLICY = policy({ scripts: [] });

/**
 * Of the page inside Excel: its own origin and what Office.js needs, nothing more.
 *
 * @param {{ scripts: readonly string[] }} office What `officeScript` says.
 */
export const excelPolicy = (office) => policy(office);

function policy({ scripts }) {
  return [
    "default-src 'none'",
    ["script-src 'self'", ...scripts].join(" "),
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}
