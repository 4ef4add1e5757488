// Small settings this browser remembers; a browser that stores nothing is no fault.

export const THEME = 'witnessmark-office-theme'
export const WORKSHOP = 'witnessmark-office-workshop'

export function remembered(name: string): string {
  try {
    return localStorage.getItem(name) ?? ''
  } catch {
    return ''
  }
}

export function remember(name: string, value: string): void {
  try {
    localStorage.setItem(name, value)
  } catch {
    // Then it lasts until the page is closed.
  }
}
