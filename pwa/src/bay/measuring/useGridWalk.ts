// Which cell of a measurement sheet is lit: the order of the walk, what is read already, and what comes next.
import { useMemo, useRef, useState } from 'preact/hooks'
import type { EngineType } from '../../store/index.ts'
import { beside } from '../../trade/engine/locations.ts'
import type { Sheet, SheetPlace } from '../../trade/sheets/types.ts'
import { lastUsed } from '../frame/hand.ts'
import { type Cell, type Walk, lastSaved, missingAt, nextMissing, orderOf, same, takenIn } from './grid.ts'

export interface WalkProps {
  type: EngineType
  /** Code of the procedure. */
  code: string
  sheet: Sheet | null
  /** The place in hand when the screen was opened. */
  start: string
  /** A cell or a place that somebody chose; '' where the walk decides. */
  chosen: { place: string; reading: string }
}

export function useGridWalk({ type, code, sheet, start, chosen }: WalkProps) {
  const [last, setLast] = useState<Cell | null>(null)
  const walk = (lastUsed(`walk/${code}`) || sheet?.walk || 'place') as Walk
  const order = useMemo(() => (sheet ? orderOf(sheet, walk) : []), [sheet, walk])
  const has = useTaken(sheet, last)
  const first = useMemo(() => startPlace(sheet, type, start), [sheet, type, start])
  const target = targetOf()
  const shown = target?.place ?? (chosen.place || last?.place || first || sheet?.places[0]?.place || '')
  const place: SheetPlace | undefined = sheet?.places.find((p) => p.place === shown)

  function targetOf(): Cell | null {
    if (!sheet) return null
    if (chosen.place) return chosen.reading ? { ...chosen } : missingAt(order, has, chosen.place)
    if (last) return nextMissing(order, has, last)
    const index = walk === 'place' ? order.findIndex((cell) => cell.place === first) : 0
    return nextMissing(order, has, order[index - 1] ?? null)
  }

  return {
    walk, order, has, target, shown, place,
    /** The cell that was saved a moment ago, from which the walk goes on. */
    goOnFrom: setLast,
    /** What is left elsewhere when nothing is left at the place shown. */
    onward: target ? null : nextMissing(order, has, order.findLast((cell) => cell.place === shown) ?? null),
    latest: last ?? (sheet ? lastSaved(sheet) : null),
  }
}

/** True for a cell that holds a reading; the one saved last counts before the store has shown it. */
function useTaken(sheet: Sheet | null, last: Cell | null): (cell: Cell) => boolean {
  const shown = useRef<Cell | null>(null)
  return useMemo(() => {
    const taken = sheet ? takenIn(sheet) : () => false
    if (last && taken(last)) shown.current = last
    // Once the store has shown it, the store alone counts: it may have been withdrawn since.
    return (cell: Cell) => taken(cell) || (same(cell, last) && shown.current !== last)
  }, [sheet, last])
}

/** The place of the sheet where the walk begins: that in hand, or the one that lies with it; '' for neither. */
function startPlace(sheet: Sheet | null, type: EngineType, start: string): string {
  if (!sheet || !start) return ''
  if (sheet.places.some((p) => p.place === start)) return start
  const near = beside(type as never, start, sheet.part)
  return sheet.places.some((p) => p.place === near) ? near : ''
}
