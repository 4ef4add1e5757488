import { useEffect, useRef, useState } from 'preact/hooks'
import { tap, type Where, withdraw } from '../../capture/index.ts'
import type { EngineType, Job } from '../../store/index.ts'
import type { Spoken } from '../../trade/record/kinds.ts'
import type { DoneRow, StageState } from '../../trade/tightening/run.ts'
import { heldFor, setFor, extensionOf } from './tools.ts'
import { doneWords } from './runWords.ts'
import { speakAloud } from '../speaking/speech.ts'
import { goTo } from '../frame/useJob.ts'
import { type Run, useRuns } from './useRuns.ts'
import { useSaving } from '../frame/useSaving.ts'
import { say } from '../frame/say.ts'

// Two touches within this time are a single touch of a heavy glove: no bolt is tightened as fast.
const ONE_TOUCH_MS = 300
const PATIENCE_MS = 3000

/** What the store must show before the next touch counts: an entry that came, or one that was withdrawn. */
interface Awaited {
  entry: string
  gone: boolean
}

/** Where a record of a run belongs: at its fastener, of the whole joint at its first one; '' where no place is known. */
export function whereIn(job: Job, run: Run, label = ''): Where {
  const at = run.fasteners.find((fastener) => fastener.label === label) ?? run.fasteners[0]
  return { job: job.id, place: run.joint && at ? `${run.joint}/${at.label}` : '', point: '' }
}

/** A run with the acts of its screen. Its state is folded from the store's records and from nothing else. */
export function useRun(job: Job, type: EngineType | null, id: string) {
  const runs = useRuns(job, type)
  const run = runs?.find((known) => known.id === id) ?? null
  const { message, busy, attempt, forget } = useSaving()
  const { arrived, awaiting, await: awaitEntry } = useAwaited(run)
  const [chosenThread, chooseThread] = useState('')
  const touched = useRef(0)
  const state = run?.state
  const stage: StageState | undefined = state ? (state.stages[state.stage ?? state.stages.length - 1] ?? undefined) : undefined
  const next = state?.next ?? null
  const held = heldFor(stage?.method ?? 'torque')
  // In which state the threads are: as chosen on this screen, else as recorded last, else as the sheet asks.
  const thread = chosenThread || (run ? lastState(run) : '') || (run?.sheet.state ?? '')
  const set = stage ? setFor(stage, extensionOf(held)) : ''

  // Where the next picture belongs: at the bolt in hand.
  useEffect(() => {
    if (run && next) goTo(job, whereIn(job, run, next).place)
  }, [run?.id, next])
  useCallOut(run, awaiting)

  /** One fastener of the stage in hand, as the tool signalled, as typed or as spoken; whichever it is, it is recorded. */
  const record = async (label: string, typed?: { value: string; unit: string }, spoken?: Spoken): Promise<boolean> => {
    if (!run || !stage || busy || !arrived) return false
    const now = performance.now()
    if (now - touched.current < ONE_TOUCH_MS) return false
    touched.current = now
    const { value, unit } = typed ?? { value: stage.target, unit: stage.unit }
    const body = {
      run: run.id, sheet: run.sheet.id, stage: stage.code, fastener: label, value, unit, method: stage.method, state: thread,
      given: typed ? ('typed' as const) : ('tap' as const), tool: held.name, tool_id: held.id, set_value: set, remark: '',
    }
    const done = { number: label, done: doneWords(stage.method), value: `${value} ${unit}` }
    const words = typed && value ? say('run.saved_value', { ...done }) : say('run.saved', { ...done })
    const saved = await attempt(() => tap(whereIn(job, run, label), body, spoken), words)
    if (saved) awaitEntry({ entry: saved.id, gone: false })
    return saved !== null
  }

  /** Withdraws what was recorded last. The record of it stays. */
  const takeBack = async (row: DoneRow, reason: string): Promise<boolean> => {
    const entry = run?.entries.find(({ id }) => id === row.entry)
    if (!entry) return false
    const saved = await attempt(() => withdraw({ id: entry.id, hash: entry.hash, job: job.id }, reason), say('run.saved_withdrawn', { number: row.label }))
    if (saved) awaitEntry({ entry: entry.id, gone: true })
    return saved !== null
  }

  return {
    runs, run, state, stage, next, held, set, thread, chooseThread, message, busy: busy || !arrived, forget, record, takeBack,
    last: run ? lastTap(run) : null,
  }
}

export type RunInHand = ReturnType<typeof useRun>

/** Holds further touches back until the store shows what was just saved. */
function useAwaited(run: Run | null) {
  const [awaited, setAwaited] = useState<Awaited | null>(null)
  const arrived = !awaited || Boolean(run?.entries.some(({ id, withdrawn }) => id === awaited.entry && (!awaited.gone || withdrawn)))
  useEffect(() => {
    if (!awaited) return
    // Should the store stay silent, the screen must not.
    const timer = setTimeout(() => setAwaited(null), PATIENCE_MS)
    if (arrived) setAwaited(null)
    return () => clearTimeout(timer)
  }, [awaited, arrived])
  return { arrived, awaiting: awaited !== null, await: setAwaited }
}

/** The tap made last, in any stage; not one that a stage begun again has left behind. */
function lastTap(run: Run): DoneRow | null {
  const order = run.entries.map(({ id }) => id)
  const rows = [...run.state.stages.flatMap(({ done }) => done), ...run.state.strays]
  return rows.reduce<DoneRow | null>((last, row) => (!last || order.indexOf(row.entry) > order.indexOf(last.entry) ? row : last), null)
}

const lastState = (run: Run): string => String(run.entries.findLast(({ kind, withdrawn }) => kind === 'fastener_tightened' && !withdrawn)?.body.state ?? '')

/** After an act on this phone: a deviation is felt, what comes next is called out. */
function useCallOut(run: Run | null, mine: boolean): void {
  const before = useRef<{ departures: number; next: string } | null>(null)
  const departures = run?.state.departures.length ?? 0
  const next = run ? `${run.state.stage} ${run.state.next}` : ''
  const own = useRef(false)
  own.current ||= mine
  useEffect(() => {
    const was = before.current
    before.current = run ? { departures, next } : null
    if (!run || !was || !own.current) return
    own.current = mine
    if (departures > was.departures) {
      navigator.vibrate?.([60, 50, 60])
      speakAloud(run.state.departures.at(-1)!.words)
    } else if (next !== was.next) speakAloud(run.state.next ? say('run.number', { number: run.state.next }) : say('run.all_done_aloud'))
  }, [departures, next])
}
