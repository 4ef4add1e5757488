// What this phone's user prefers: light or dark theme, right or left hand, and what was last used. Never evidence.
import { signal } from '@preact/signals'

const KEY = 'witnessmark.bay.hand'

export interface Hand {
  theme: 'phone' | 'light' | 'dark'
  hand: 'right' | 'left'
  /** The gauge last used for each quantity, the tool last used for tightening, and the like. */
  last: Record<string, string>
}

function stored(): Hand {
  const plain: Hand = { theme: 'phone', hand: 'right', last: {} }
  try {
    return { ...plain, ...JSON.parse(localStorage.getItem(KEY) ?? '{}') }
  } catch {
    return plain
  }
}

export const hand = signal<Hand>(stored())

export function prefer(change: Partial<Hand>): void {
  hand.value = { ...hand.value, ...change }
  try {
    localStorage.setItem(KEY, JSON.stringify(hand.value))
  } catch {
    // Preferences that cannot be stored hold until the app is closed.
  }
  dress()
}

export function remember(what: string, value: string): void {
  if (value) prefer({ last: { ...hand.value.last, [what]: value } })
}

export const lastUsed = (what: string): string => hand.value.last[what] ?? ''

/** Puts theme and hand on the page. */
export function dress(): void {
  const { theme, hand: side } = hand.value
  const root = document.documentElement
  if (theme === 'phone') delete root.dataset.theme
  else root.dataset.theme = theme
  root.dataset.hand = side
  // The system's bar above the app takes the ground of the theme that is worn, not of the phone's;
  // what is for print never is on a screen.
  for (const bar of document.querySelectorAll<HTMLMetaElement>('meta[data-ground]')) {
    const { ground } = bar.dataset
    bar.setAttribute('media', theme === 'phone' ? `(prefers-color-scheme: ${ground})` : ground === theme ? 'all' : 'print')
  }
}
