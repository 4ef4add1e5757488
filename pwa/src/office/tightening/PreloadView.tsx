import type { TighteningSheet } from '../../trade/tightening_sheets.ts'

/** What the torque stages may come to in the bolt: an estimate with its assumptions, never a limit. */
export function PreloadView(_: { sheet: TighteningSheet }) {
  return null
}
