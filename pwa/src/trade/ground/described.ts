// The numbers of what the workshop describes in its own words; the server has checked them.

import { type Fraction, fraction } from './units.ts'

/** The exact number of decimal text that was checked. */
export function exact(text: string): Fraction {
  const [whole, decimals = ''] = text.split('.') as [string, string?]
  return fraction(BigInt(whole + decimals), 10n ** BigInt(decimals.length))
}

/** The number of a field that was checked, null for an empty one. */
export const amount = (text: string): Fraction | null => (text ? exact(text) : null)
