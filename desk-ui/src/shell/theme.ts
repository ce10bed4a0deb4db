/** Light or dark: as the system has it, until the reader chooses. */
export type Theme = 'light' | 'dark';

const KEY = 'wayfold-theme';

export function readTheme(): Theme {
  const chosen = localStorage.getItem(KEY);
  if (chosen === 'light' || chosen === 'dark') return chosen;
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

export function showTheme(theme: Theme): void {
  document.documentElement.dataset['theme'] = theme;
}

export function chooseTheme(theme: Theme): void {
  localStorage.setItem(KEY, theme);
  showTheme(theme);
}
