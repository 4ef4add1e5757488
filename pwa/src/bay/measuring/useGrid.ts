import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { type EngineType, type Job, known, readingsOf } from '../../store/index.ts'
import { sheet as sheetOf } from '../../trade/sheets/job_sheets.ts'
import type { Asked, ReadingIn, Sheet } from '../../trade/sheets/types.ts'
import { useDraft } from '../frame/useDraft.ts'
import { goTo, useWhere } from '../frame/useJob.ts'
import { useStored } from '../frame/useStored.ts'
import { type GridDraft, NOTHING_TYPED, useGridTyping } from './useGridTyping.ts'
import { useGridUnit } from './useGridUnit.ts'
import { useGridWalk } from './useGridWalk.ts'
import { gaugeInHand, withOf } from './useWith.ts'

/** The measuring screen's state: which cell is lit, what is typed, what the figures are by now. */
export function useGrid(job: Job, type: EngineType, code: string) {
  const at = useWhere(job)
  const [start] = useState(() => at.place)
  const draft = useDraft(`grid/${job.id}/${code}`, NOTHING_TYPED)
  const v = draft.value
  const sheet = useMeasurementSheet(job, type, code)
  const { walk, order, has, target, shown, place, goOnFrom, onward, latest } = useGridWalk({ type, code, sheet, start, chosen: v })
  const wanted: Asked | undefined = sheet?.readings_asked.find((r) => r.code === target?.reading)
  const quantity = wanted?.quantity ?? sheet?.readings_asked[0]?.quantity ?? ''
  const { unit, units, chooseUnit } = useGridUnit(sheet, quantity)
  const typing = useGridTyping({ job, code, sheet, target, quantity, unit, draft, goOnFrom })
  useEffect(() => {
    if (shown && shown !== at.place) goTo(job, shown)
  }, [shown])
  useIdleDraft(draft)
  return {
    ...typing,
    sheet, place, target, wanted, quantity, unit, units, walk, order, has, latest, onward, chooseUnit,
    gauge: gaugeInHand(code, quantity),
    value: v.value,
    remark: v.remark,
    question: v.question,
    repeat: v.again ? (place?.readings[target?.reading ?? '']?.n ?? 0) + 1 : 0,
    again: () => latest && typing.pick(latest, true),
  }
}

export type Grid = ReturnType<typeof useGrid>

/** The sheet of a procedure, recomputed with every reading; null before the store has answered. */
function useMeasurementSheet(job: Job, type: EngineType, code: string): Sheet | null {
  const { state } = withOf(job)
  const readings = useStored<ReadingIn[] | null>(null, () => readingsOf(job.id), [job.id])
  const workshop = known.value
  return useMemo(() => (readings ? sheetOf(type as never, readings, workshop, code, state, true) : null), [type, readings, workshop, code, state])
}

/** A place merely looked at is no draft: it would hold up an update of the app. */
function useIdleDraft(draft: GridDraft): void {
  const latest = useRef(draft)
  latest.current = draft
  useEffect(() => () => void (latest.current.begun && latest.current.value.value === '' && latest.current.done()), [])
}
