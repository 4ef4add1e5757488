import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { measure } from '../../capture/index.ts'
import { type EngineType, type Job, known, readingsOf } from '../../store/index.ts'
import { type Spoken, TYPED } from '../../trade/record/kinds.ts'
import { beside } from '../../trade/engine/locations.ts'
import { odd } from '../../trade/sheets/odd_reading.ts'
import { sheet as sheetOf } from '../../trade/sheets/job_sheets.ts'
import type { Asked, ReadingIn, Sheet, SheetPlace } from '../../trade/sheets/types.ts'
import { type Cell, type Typed, type Walk, lastKept, missingAt, nextMissing, orderOf, same, takenIn, typed, unitIn } from './grid.ts'
import { lastUsed, remember } from '../frame/hand.ts'
import { unitsFor } from '../frame/quantities.ts'
import { useAsked } from '../frame/useAsked.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { gaugeInHand, withOf } from './useWith.ts'
import { capital, sentence } from '../frame/words.ts'

/** `place` and `reading` only where somebody chose them; `asked` holds the question once it was put. */
const BLANK = { value: '', place: '', reading: '', again: false, asked: '', remark: '' }

/** The measuring screen's state: which cell is lit, what is typed, what the figures are by now. */
export function useGrid(job: Job, type: EngineType, code: string) {
  const at = useWhere(job)
  const w = withOf(job)
  const draft = useDraft(`grid/${job.id}/${code}`, BLANK)
  const v = draft.value
  const { told, busy, keep, forget } = useSaving()
  const [wrong, setWrong] = useState('')
  const [last, setLast] = useState<Cell | null>(null)
  const readings = useAsked<ReadingIn[] | null>(null, () => readingsOf(job.id), [job.id])
  const says = known.value
  const sheet = useMemo<Sheet | null>(
    () => (readings ? sheetOf(type as never, readings, says, code, w.state, true) : null),
    [type, readings, says, code, w.state],
  )
  const [start] = useState(() => at.place)
  const walk = (lastUsed(`walk/${code}`) || sheet?.walk || 'place') as Walk
  const order = useMemo(() => (sheet ? orderOf(sheet, walk) : []), [sheet, walk])
  const heard = useRef<Cell | null>(null)
  const has = useMemo(() => {
    const taken = sheet ? takenIn(sheet) : () => false
    if (last && taken(last)) heard.current = last
    // What was kept a moment ago counts before the store has told it again; once told, the store alone counts.
    return (cell: Cell) => taken(cell) || (same(cell, last) && heard.current !== last)
  }, [sheet, last])
  const target = targetOf()
  const shown = target?.place ?? (v.place || last?.place || startPlace() || sheet?.places[0]?.place || '')
  const place: SheetPlace | undefined = sheet?.places.find((p) => p.place === shown)
  const asked: Asked | undefined = sheet?.readings_asked.find((r) => r.code === target?.reading)
  const quantity = asked?.quantity ?? sheet?.readings_asked[0]?.quantity ?? ''
  const units = unitsFor(quantity)
  // The unit of the readings that were there when the sheet was opened, then the one chosen last; it stands until another is chosen.
  const standing = useRef<Record<string, string>>({})
  if (sheet && quantity && !(quantity in standing.current)) {
    standing.current[quantity] = [unitIn(sheet, quantity), lastUsed(`unit/${quantity}`)].find((one) => one && units.includes(one)) ?? units[0] ?? ''
  }
  const unit = standing.current[quantity] ?? ''
  const gauge = gaugeInHand(code, quantity)

  function startPlace(): string {
    if (!sheet || !start) return ''
    if (sheet.places.some((p) => p.place === start)) return start
    const near = beside(type as never, start, sheet.part)
    return sheet.places.some((p) => p.place === near) ? near : ''
  }

  function targetOf(): Cell | null {
    if (!sheet) return null
    if (v.place) return v.reading ? { place: v.place, reading: v.reading } : missingAt(order, has, v.place)
    if (last) return nextMissing(order, has, last)
    const first = walk === 'place' ? order.findIndex((cell) => cell.place === startPlace()) : 0
    return nextMissing(order, has, order[first - 1] ?? null)
  }

  useEffect(() => {
    if (shown && shown !== at.place) goTo(job, shown)
  }, [shown])
  // A place merely looked at is no draft: it would hold up an update of the app.
  const idle = useRef(draft)
  idle.current = draft
  useEffect(() => () => void (idle.current.begun && idle.current.value.value === '' && idle.current.done()), [])

  const type_ = (value: string) => {
    setWrong('')
    forget()
    // Digits belong to the cell that was lit when they were typed, whatever arrives meanwhile.
    draft.change({ value, place: target?.place ?? '', reading: target?.reading ?? '' })
  }

  const pick = (cell: Cell | { place: string; reading: '' }, again = false) => {
    setWrong('')
    forget()
    draft.change({ place: cell.place, reading: cell.reading, again, asked: '' })
  }

  /** Keeps what is typed; says in place what cannot be read, and asks once about a value far from its neighbours. */
  const save = async () => {
    if (!sheet || !target || !asked) return
    let read
    try {
      read = typed(quantity, v.value, unit)
    } catch (fault) {
      navigator.vibrate?.([80, 60, 80])
      return setWrong(sentence(fault))
    }
    const question = v.asked ? '' : odd(sheet, target.place, target.reading, read.value, read.unit)
    if (question) {
      navigator.vibrate?.([40, 40, 40])
      return draft.change({ asked: question, place: target.place, reading: target.reading })
    }
    // A unit typed with one value is of that value alone: the next is in the unit that was chosen.
    if (await keepReading(target, read, TYPED)) await draft.done()
  }

  /** Keeps one reading of a cell. `spoken`: in which sound it was said, and what was heard there. */
  const keepReading = async (cell: Cell, { value, unit: said }: Typed, spoken: Spoken): Promise<boolean> => {
    const reading = sheet?.readings_asked.find((r) => r.code === cell.reading)
    if (!sheet || !reading) return false
    const { name, id } = gaugeInHand(code, reading.quantity)
    const body = {
      procedure: code,
      edition: sheet.edition,
      reading: cell.reading,
      quantity: reading.quantity,
      value,
      unit: said,
      gauge: name,
      gauge_id: id,
      remark: v.remark.trim(),
      ...w,
    }
    const where = sheet.places.find((p) => p.place === cell.place)?.name ?? ''
    const words = `${capital(where)}, ${reading.words}: ${value} ${said}. Saved.`
    if (!(await keep(() => measure({ job: job.id, place: cell.place, point: reading.words }, body, spoken), words))) return false
    setLast(cell)
    return true
  }

  /** Keeps a figure that was spoken and accepted. What is half typed elsewhere stays. */
  const keepSpoken = async (cell: Cell, value: string, unit: string, spoken: Spoken): Promise<boolean> => {
    const kept = await keepReading(cell, { value, unit }, spoken)
    if (kept && (v.value === '' || same(cell, target))) await draft.done()
    return kept
  }

  // What is left elsewhere when nothing is left here.
  const onward = target ? null : nextMissing(order, has, order.findLast((cell) => cell.place === shown) ?? null)
  const latest = last ?? (sheet ? lastKept(sheet) : null)
  return {
    sheet, place, target, asked, quantity, unit, units, gauge, walk, order, has, told, wrong, busy, latest, onward, save, keepSpoken, pick,
    value: v.value,
    remark: v.remark,
    write: (remark: string) => draft.change({ remark }),
    repeat: v.again ? (place?.readings[target?.reading ?? '']?.n ?? 0) + 1 : 0,
    question: v.asked,
    type: type_,
    chooseUnit: (unit: string) => {
      standing.current[quantity] = unit
      // This draws the screen anew as well: it follows what is remembered.
      remember(`unit/${quantity}`, unit)
    },
    drop: () => draft.change({ value: '', asked: v.asked }),
    again: () => latest && pick(latest, true),
  }
}

export type Grid = ReturnType<typeof useGrid>
