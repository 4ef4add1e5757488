// Small things this browser remembers for the reader; a browser that keeps nothing is no fault.

export const THEME = 'witnessmark-office-theme'
export const WORKSHOP = 'witnessmark-office-workshop'

export function recalled(name: string): string {
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
    // Remembered until the page is closed, then.
  }
}
