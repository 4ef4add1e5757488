// What the read API answers about tightening; the sheets, tools and runs themselves have the trade's shapes.

import type { Revision } from '../shapes.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import type { TorqueTool } from '../../../trade/tightening/tools.ts'

export type SheetLine = TighteningSheet & { entry: string; history?: (Revision & { sheet: TighteningSheet })[] }

export interface SheetsShown {
  sheets: SheetLine[]
  tools: (TorqueTool & { overdue: boolean })[]
}

/** The sheet alone, without what the server adds to it. */
export function bare({ entry: _, history: __, ...sheet }: SheetLine): TighteningSheet {
  return sheet
}
