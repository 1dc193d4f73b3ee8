// How the page should look on this device.

export const THEMES = ["device", "light", "dark"] as const;
export type Theme = (typeof THEMES)[number];

const KEY = "oddment/theme";

function kept(): Theme {
  try {
    const found = localStorage.getItem(KEY);
    return THEMES.find((theme) => theme === found) ?? "device";
  } catch {
    return "device";
  }
}

class Settings {
  theme = $state<Theme>(kept());

  choose(theme: Theme): void {
    this.theme = theme;
    try {
      localStorage.setItem(KEY, theme);
    } catch {
      // Then it holds until the page is left.
    }
    this.show();
  }

  /** Puts the choice where the style sheet sees it. */
  show(): void {
    if (this.theme === "device") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = this.theme;
  }
}

export const settings = new Settings();
