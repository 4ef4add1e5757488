// The unit of each quantity on a measuring screen: it stands until another is chosen.
import { useRef } from 'preact/hooks'
import type { Sheet } from '../../trade/sheets/types.ts'
import { lastUsed, remember } from '../frame/hand.ts'
import { unitIn } from './grid.ts'
import { unitsFor } from '../frame/quantities.ts'

export function useGridUnit(sheet: Sheet | null, quantity: string) {
  const units = unitsFor(quantity)
  const standing = useRef<Record<string, string>>({})
  // That of the readings that were there when the sheet was opened, then the one chosen last.
  if (sheet && quantity && !(quantity in standing.current)) {
    standing.current[quantity] = [unitIn(sheet, quantity), lastUsed(`unit/${quantity}`)].find((unit) => unit && units.includes(unit)) ?? units[0] ?? ''
  }
  return {
    units,
    unit: standing.current[quantity] ?? '',
    chooseUnit: (unit: string) => {
      standing.current[quantity] = unit
      // This draws the screen again as well: it follows what is remembered.
      remember(`unit/${quantity}`, unit)
    },
  }
}
