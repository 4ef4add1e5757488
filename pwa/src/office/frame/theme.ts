import { signal } from '@preact/signals'
import { recalled, remember, THEME } from './kept.ts'

export type Theme = 'light' | 'dark' | ''

/** '' follows the machine. */
export const theme = signal<Theme>('')

export function wear(chosen: Theme): void {
  theme.value = chosen
  if (chosen) document.documentElement.dataset['theme'] = chosen
  else delete document.documentElement.dataset['theme']
  remember(THEME, chosen)
}

export function wearAsKept(): void {
  const kept = recalled(THEME)
  if (kept === 'light' || kept === 'dark') wear(kept)
}
