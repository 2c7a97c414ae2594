import { useSyncExternalStore } from "react";
import { teamsHighContrastTheme, webDarkTheme, webLightTheme, type Theme } from "@fluentui/react-components";

const DARK = "(prefers-color-scheme: dark)";
const FORCED = "(forced-colors: active)";
const STILL = "(prefers-reduced-motion: reduce)";

/** The theme the person's system asks for: light, dark or high contrast; without motion where they ask for that. */
export function useTheme(): Theme {
  const key = useSyncExternalStore(subscribe, snapshot, () => "light");
  return THEMES[key];
}

const still = (theme: Theme): Theme => ({
  ...theme,
  durationUltraFast: "0.01ms",
  durationFaster: "0.01ms",
  durationFast: "0.01ms",
  durationNormal: "0.01ms",
  durationGentle: "0.01ms",
  durationSlow: "0.01ms",
  durationSlower: "0.01ms",
  durationUltraSlow: "0.01ms",
});

const THEMES: Readonly<Record<string, Theme>> = {
  light: webLightTheme,
  dark: webDarkTheme,
  contrast: teamsHighContrastTheme,
  "light still": still(webLightTheme),
  "dark still": still(webDarkTheme),
  "contrast still": still(teamsHighContrastTheme),
};

function snapshot(): string {
  // Where the system forces its own colours, what we draw ourselves has to suit their ground: black ground goes with "dark".
  const dark = matchMedia(DARK).matches;
  const look = dark && matchMedia(FORCED).matches ? "contrast" : dark ? "dark" : "light";
  return matchMedia(STILL).matches ? `${look} still` : look;
}

function subscribe(listener: () => void): () => void {
  const queries = [DARK, FORCED, STILL].map((query) => matchMedia(query));
  for (const query of queries) query.addEventListener("change", listener);
  return () => {
    for (const query of queries) query.removeEventListener("change", listener);
  };
}
