import { signal } from '@preact/signals'

export type Theme = 'light' | 'dark' | ''
const KEPT_AS = 'witnessmark-office-theme'

/** '' follows the machine. */
export const theme = signal<Theme>('')

export function wear(chosen: Theme): void {
  theme.value = chosen
  if (chosen) document.documentElement.dataset.theme = chosen
  else delete document.documentElement.dataset.theme
  try {
    localStorage.setItem(KEPT_AS, chosen)
  } catch {
    // A browser that keeps nothing still shows the theme until it is closed.
  }
}

export function wearAsKept(): void {
  try {
    const kept = localStorage.getItem(KEPT_AS)
    if (kept === 'light' || kept === 'dark') wear(kept)
  } catch {
    // As above.
  }
}
