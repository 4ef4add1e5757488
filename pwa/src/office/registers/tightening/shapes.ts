// What the read API answers about the tightening sheets of an engine type.

import type { SheetListed, TighteningSheet } from '../../../wire/openapi.d.ts'

export type { SheetListed as SheetLine, TighteningSheets as SheetsShown, Tools, ToolShown } from '../../../wire/openapi.d.ts'

/** The sheet alone, without what the server says beside it. */
export function bare({ entry: _, history: __, ...sheet }: SheetListed): TighteningSheet {
  return sheet
}
