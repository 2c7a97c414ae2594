/** Of the page with the embedded sheet: nothing but its own origin. The sheet and the pane set styles from script, hence the one exception. */
export const EMBEDDED_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

/** Of the page inside Excel: what Office.js needs and nothing more. */
export const EXCEL_POLICY = [
  "default-src 'none'",
  "script-src 'self' https://appsforoffice.microsoft.com https://ajax.aspnetcdn.com",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "frame-src https://telemetryservice.firstpartyapps.oaspapps.com",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");
