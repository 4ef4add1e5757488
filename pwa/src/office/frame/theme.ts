import { signal } from '@preact/signals'
import { remember, remembered, THEME } from './remembered.ts'

export type Theme = 'light' | 'dark' | ''

/** '' follows the system. */
export const theme = signal<Theme>('')

export function wear(chosen: Theme): void {
  theme.value = chosen
  if (chosen) document.documentElement.dataset['theme'] = chosen
  else delete document.documentElement.dataset['theme']
  remember(THEME, chosen)
}

export function wearRememberedTheme(): void {
  const chosen = remembered(THEME)
  if (chosen === 'light' || chosen === 'dark') wear(chosen)
}
