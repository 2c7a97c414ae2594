/**
 * Colours of the plots, taken from the theme of the pane so that dark and high-contrast themes hold.
 *
 * Left and right use the blue and the vermilion of the colour-blind-safe set of Okabe and Ito (2008), lighter ones of the
 * same set on dark ground; they are told apart by shape and text as well, never by colour alone.
 */
export interface PlotColours {
  readonly ground: string;
  readonly text: string;
  readonly quiet: string;
  readonly grid: string;
  readonly total: string;
  readonly left: string;
  readonly right: string;
  /** For lines of other trials, which also differ by dash pattern. */
  readonly others: readonly string[];
  /** Two alternating tints of phases. */
  readonly bands: readonly [string, string];
  readonly event: string;
}

/** Hues of the sides on light and on dark ground. */
export const SIDE_COLOURS = { light: { left: "#0072b2", right: "#c04f00" }, dark: { left: "#56b4e9", right: "#e69f00" } } as const;

/** Reads the colours that hold at `element`; call again when the theme changes. */
export function plotColours(element: Element): PlotColours {
  const style = getComputedStyle(element);
  const token = (name: string, otherwise: string): string => style.getPropertyValue(`--${name}`).trim() || otherwise;
  const ground = token("colorNeutralBackground1", "#ffffff");
  const dark = luminance(ground) < 0.4;
  return {
    ground,
    text: token("colorNeutralForeground1", "#242424"),
    quiet: token("colorNeutralForeground2", "#424242"),
    grid: token("colorNeutralStroke3", "#e6e6e6"),
    total: token("colorNeutralForeground1", "#242424"),
    ...SIDE_COLOURS[dark ? "dark" : "light"],
    others: dark ? ["#56b4e9", "#f0e442", "#cc79a7", "#009e73"] : ["#0072b2", "#c04f00", "#8f3f71", "#00785a"],
    bands: dark ? ["rgba(255,255,255,0.10)", "rgba(255,255,255,0.04)"] : ["rgba(20,60,90,0.10)", "rgba(20,60,90,0.035)"],
    event: token("colorBrandForeground1", "#0f6cbd"),
  };
}

/** Relative luminance (WCAG 2.2) of `#rgb` or `#rrggbb`; one for anything else. */
export function luminance(colour: string): number {
  const hex = /^#([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(colour)?.[1];
  if (hex === undefined) return 1;
  const wide = hex.length === 3 ? [...hex].map((digit) => digit + digit).join("") : hex;
  const [r, g, b] = [0, 2, 4].map((at) => {
    const part = parseInt(wide.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
