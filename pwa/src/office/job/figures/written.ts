// Exact comparing of figures as they are written. Binary numbers appear only where ink is placed.

import { read, toSi, type Fraction, UNITS } from '../../../trade/ground/units.ts'
import type { Sheet, SheetFigure, SheetPlace, Taken } from '../../../trade/sheets/types.ts'
import type { Standing } from '../../../trade/measuring/entries.ts'

/** The exact SI amount of a written figure; null when it cannot be read. */
export function exact(text: string | null, unit: string): Fraction | null {
  if (!text) return null
  try {
    const reading = read(text, unit)
    return toSi(reading.amount, reading.unit)
  } catch {
    return null
  }
}

export function order(a: Fraction, b: Fraction): -1 | 0 | 1 {
  const difference = a.over * b.under - b.over * a.under
  return difference < 0n ? -1 : difference > 0n ? 1 : 0
}

/** Millimetres (or the unit's own SI amount) for placing ink, never for showing. */
export function ink(text: string | null, unit: string): number | null {
  const amount = exact(text, unit)
  if (!amount) return null
  const plain = Number((amount.over * 10n ** 12n) / amount.under) / 1e12
  return UNITS[unit]?.kind === 'length' ? plain * 1000 : plain
}

const WORST: Standing[] = ['outside', 'not proven', 'within', 'no limit']

/** The standing of a place: the worst of its figures'; null while none of them is worked out. */
export function standingOf(figures: readonly SheetFigure[]): Standing | null {
  if (figures.every(({ value }) => value === null)) return null
  const standings = figures.flatMap(({ now }) => now.map(({ standing }) => standing))
  return WORST.find((standing) => standings.includes(standing)) ?? 'no limit'
}

/** Which of a place's readings lie outside a limit of a size that is read directly: largest, smallest or the reading itself. */
export function beyond(sheet: Pick<Sheet, 'axes'>, place: SheetPlace): Set<string> {
  const out = new Set<string>()
  const grid = new Set(cells(sheet).map(({ code }) => code))
  for (const figure of place.figures) {
    const amount = exact(figure.value, figure.unit)
    if (!amount || !figure.now.length) continue
    const direct = figure.from.find((code) => same(place.readings[code], amount))
    if (direct === undefined) continue
    // The largest of a grid is one of its readings, but its limit holds for them all.
    for (const [code, taken] of Object.entries(place.readings)) {
      if (code !== direct && !(grid.has(direct) && grid.has(code))) continue
      const size = exact(taken.mean, taken.unit)
      if (!size) continue
      for (const { low, high, unit } of figure.now) {
        const [least, most] = [exact(low, unit), exact(high, unit)]
        if ((least && order(size, least) < 0) || (most && order(size, most) > 0)) out.add(code)
      }
    }
  }
  return out
}

function same(taken: Taken | undefined, amount: Fraction): boolean {
  const size = taken && exact(taken.mean, taken.unit)
  return Boolean(size && order(size, amount) === 0)
}

/** The limits of the sizes that are read directly, lowest and highest, for the band of a drawing; null where there is none. */
export function band(sheet: Sheet): { low: number | null; high: number | null } {
  const grid = new Set(cells(sheet).map(({ code }) => code))
  const limits: { low: number | null; high: number | null } = { low: null, high: null }
  for (const place of sheet.places) {
    for (const figure of place.figures) {
      const amount = exact(figure.value, figure.unit)
      if (!amount || !figure.from.some((code) => grid.has(code) && same(place.readings[code], amount))) continue
      for (const { low, high, unit } of figure.now) {
        limits.low ??= ink(low, unit)
        limits.high ??= ink(high, unit)
      }
    }
  }
  return limits
}

/** The codes of a sheet's grid, first axis slowest, each with its words; one empty code list when there is no grid. */
export function cells(sheet: Pick<Sheet, 'axes'>): { code: string; words: string }[] {
  if (!sheet.axes.length) return []
  return sheet.axes.reduce<{ code: string; words: string }[]>(
    (codes, axis) =>
      codes.flatMap((outer) =>
        axis.values.map((value) => ({
          code: outer.code ? `${outer.code}/${value.code}` : value.code,
          words: outer.words ? `${outer.words}, ${value.words}` : value.words,
        })),
      ),
    [{ code: '', words: '' }],
  )
}

/** The words of a reading: its place in the grid, or its own name. */
export function readingWords(sheet: Sheet, code: string): string {
  return (
    cells(sheet).find((cell) => cell.code === code)?.words ??
    sheet.readings_asked.find((reading) => reading.code === code)?.words ??
    code.replaceAll('/', ', ').replaceAll('_', ' ')
  )
}
