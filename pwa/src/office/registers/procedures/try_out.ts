// What made-up readings come to by a procedure that is still being written.

import { evaluate, type Input } from '../../../trade/measuring/figures.ts'
import { pointWords, quantityOf, type Procedure } from '../../../trade/measuring/procedures.ts'
import { decimalText, fromSi, QUANTITIES, readQuantity, toSi } from '../../../trade/ground/units.ts'
import { Refusal } from '../../../trade/ground/errors.ts'
import { say } from '../../frame/say.ts'

export interface TryOutResult {
  figures: { code: string; words: string; shown: string; missing: string }[]
  /** Why a reading cannot be used, by its code. */
  refused: Record<string, string>
}

/** The figures as they would be shown, and the readings that cannot be used. */
export function workOut(procedure: Procedure, typed: Record<string, string>): TryOutResult {
  const inputs: Record<string, Input> = {}
  const refused: Record<string, string> = {}
  const quantities = new Map(procedure.sizes.map(({ code, quantity }) => [code, quantity]))
  for (const [code, text] of Object.entries(typed)) {
    if (!text.trim()) continue
    const quantity = quantities.get(code) ?? quantityOf(procedure, code)
    if (!QUANTITIES.some((known) => known.code === quantity)) continue
    try {
      const reading = readQuantity(quantity, text)
      inputs[code] = { amount: toSi(reading.amount, reading.unit), unit: reading.unit, places: reading.places }
    } catch (reason) {
      refused[code] = reason instanceof Refusal ? reason.message : String(reason)
    }
  }
  const figures = evaluate(procedure, inputs, {}).map(({ code, words, amount, unit, places, missing }) => ({
    code,
    words,
    shown: amount ? `${decimalText(fromSi(amount, unit), places)} ${unit}`.trim() : '',
    missing: missing.length
      ? say('procedures.needs', { readings: missing.map((name) => pointWords(procedure, name)).join('; ') })
      : say('procedures.not_yet'),
  }))
  return { figures, refused }
}

/** The rows of the grid: every value of every axis but the last, which runs across. */
export function gridRows(procedure: Procedure): { code: string; words: string }[] {
  if (!procedure.grid.length) return []
  const down = procedure.grid.length > 1 ? procedure.grid.slice(0, -1) : procedure.grid
  return down.reduce(
    (rows, axis) =>
      rows.flatMap((row) =>
        axis.values.map((value) => ({
          code: [row.code, value.code].filter(Boolean).join('/'),
          words: [row.words, value.words].filter(Boolean).join(', '),
        })),
      ),
    [{ code: '', words: '' }],
  )
}
