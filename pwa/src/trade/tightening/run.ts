// A run of a tightening sheet: its state is a pure fold over its entries, in the order of the log. The twin of
// trade/tightening/run.py, which says what counts and why.

import { type Departure, Departures, stretchWords, turnedAgainWords } from './departures.ts'
import { doneRow, signed, Stage, withdrawnRow } from './rows.ts'
import type { DoneRow, Signed, StageState, WithdrawnRow } from './rows.ts'
import { fastenersMissing, type Pace, pace, witnessMissing } from './values_given.ts'
import { say } from '../ground/say.ts'
import type { TighteningSheet } from './sheets.ts'
import { type Direction, stagesOf } from './stages.ts'
import { AGAIN, methodObjection, OUT_OF_TURN, stateObjection, toolObjections, toolOf, type ToolStatement, valueObjection } from './values.ts'
import type { RunEntry, Tap } from './entries.ts'

export type { DoneRow, Signed, StageState } from './rows.ts'
export type { Departure } from './departures.ts'
export type { ToolStatement } from './values.ts'

export interface Facts {
  /** Those who may answer for a manager. */
  managers?: readonly string[]
  /** Sentences on conditions that are not yet met. */
  holds?: readonly string[]
  /** Fastener's entry -> how many its tool had done by then; a phone that does not know leaves it out. */
  counted?: Record<string, number>
}

export interface RunSoFarState {
  run: string
  begun: Signed | null
  direction: Direction
  /** Index of the current stage, and its next fastener; null when nothing more is asked for. */
  stage: number | null
  next: string | null
  complete: boolean
  stages: StageState[]
  departures: Departure[]
  pace: Pace[]
  may_close: boolean
  missing: string[]
  closed: Signed | null
  witnessed: Signed | null
  people: string[]
  /** At a stage or fastener that the sheet has not. */
  strays: DoneRow[]
}

export type RunState = RunSoFarState & { withdrawn: WithdrawnRow[] }

/** The state of a run; `tools` are their descriptions in the order of the log. */
export function fold(
  sheet: TighteningSheet,
  entries: readonly RunEntry[],
  tools: readonly ToolStatement[] = [],
  facts: Facts = {},
): RunState {
  const standing = entries.filter((entry) => !entry.withdrawn)
  const begun = standing.find((entry) => entry.kind === 'tightening_begun') ?? null
  const first = begun ?? entries.find((entry) => entry.body['run'])
  const run = new Run(sheet, first ? String(first.body['run']) : '', begun, tools, facts)
  for (const entry of standing) run.take(entry)
  const mine = entries.filter((entry) => entry.withdrawn && entry.body['run'] === run.id)
  return { ...run.state(), withdrawn: mine.map(withdrawnRow) }
}

/** A run while its entries are applied, one after the other; `state` may be read at any time. */
export class Run {
  private readonly direction: Direction
  private readonly stages: Stage[]
  private readonly departures: Departures
  private closed: Signed | null = null
  private witnessed: Signed | null = null
  private readonly people: string[] = []
  private readonly hands: string[] = []
  private readonly strays: DoneRow[] = []

  constructor(
    private readonly sheet: TighteningSheet,
    readonly id: string,
    private readonly begun: RunEntry | null,
    private readonly tools: readonly ToolStatement[],
    private readonly facts: Facts,
  ) {
    this.direction = begun ? (begun.body['direction'] as Direction) : 'tighten'
    this.stages = stagesOf(sheet, this.direction).map((stage) => new Stage(stage))
    this.departures = new Departures(this.stages.map((stage) => stage.sheet.code))
  }

  /** One standing entry; those of other runs and other kinds are passed over. */
  take(entry: RunEntry): void {
    const step = Object.hasOwn(STEPS, entry.kind) ? STEPS[entry.kind] : undefined
    if (!step || this.id === '' || entry.body['run'] !== this.id) return
    if (!this.people.includes(entry.author)) this.people.push(entry.author)
    step(this, entry)
  }

  begin(entry: RunEntry): void {
    const words = entry === this.begun ? stretchWords(this.sheet, entry.body) : ''
    if (words) this.departures.add('stretch_reused', '', '', words)
  }

  tap(entry: RunEntry): void {
    const body = entry.body as unknown as Tap
    const [label, code] = [body.fastener, body.stage]
    if (!this.hands.includes(entry.author)) this.hands.push(entry.author)
    this.witnessed = null // it covers what was done before it, no more
    const at = this.stages.findIndex((stage) => stage.sheet.code === code)
    const stage = this.stages[at]
    if (!stage) {
      this.strays.push(doneRow(entry, null))
      const words = code
        ? say('tightening.stage_not_on_sheet', { fastener: label, stage: code })
        : say('tightening.stage_without_code', { fastener: label })
      this.departures.add('out_of_order', code, label, words)
      return
    }
    for (const earlier of this.stages.slice(0, at)) {
      for (const left of earlier.open()) {
        const about = { stage: earlier.sheet.words, fastener: left, next: stage.sheet.words }
        this.leaveOut(earlier, left, say('tightening.skipped_at_next', about))
      }
    }
    if (stage.sheet.proposed && !this.departures.count(code, '', 'order_proposed')) {
      const words = say('tightening.order_proposed', { stage: stage.sheet.words })
      this.departures.add('order_proposed', code, '', words)
    }
    this.place(stage, entry)
    for (const objection of [methodObjection(stage.sheet, label, body), valueObjection(stage.sheet, label, body)]) {
      if (objection) this.departures.add(objection[0], code, label, objection[1])
    }
    const state = stateObjection(this.sheet.state, stage.sheet, body.state)
    if (state && !stage.reported.has(`${state[0]}/${body.state}`)) {
      stage.reported.add(`${state[0]}/${body.state}`)
      this.departures.add(state[0], code, '', state[1])
    }
    this.tool(stage, entry)
  }

  private place(stage: Stage, entry: RunEntry): void {
    const { code, words, order, method } = stage.sheet
    const label = String(entry.body['fastener'])
    const about = { stage: words, fastener: label }
    if (!order.includes(label)) {
      this.strays.push(doneRow(entry, stage))
      this.departures.add('out_of_order', code, label, say('tightening.not_in_order', about))
      return
    }
    const still = stage.open()
    const again = !stage.missing().includes(label)
    if (again) this.departures.add('repeated', code, label, say(AGAIN[method], about))
    else if (still.includes(label) && label !== still[0]) {
      this.departures.add('out_of_order', code, label, say(OUT_OF_TURN[method], { ...about, next: still[0]! }))
    }
    stage.add({ ...doneRow(entry, stage), again })
  }

  /** Said once for a tool in a stage, not once for every fastener. */
  private tool(stage: Stage, entry: RunEntry): void {
    const body = entry.body as unknown as Tap
    const tool = toolOf(this.tools, body, entry.claimed)
    if (!tool) return
    const counted = this.facts.counted?.[entry.id] ?? null
    for (const [sort, words] of toolObjections(stage.sheet, tool, body.set_value, entry.claimed, counted)) {
      const key = `${sort}/${body.tool_id}`
      if (stage.reported.has(key)) continue
      stage.reported.add(key)
      this.departures.add(sort, stage.sheet.code, '', words)
    }
  }

  private leaveOut(stage: Stage, label: string, words: string): void {
    this.departures.add('skipped', stage.sheet.code, label, words)
    stage.skipped.push(label)
  }

  answer(entry: RunEntry): void {
    const key = entry.body['departure']
    for (const stage of this.stages) {
      const { code, words } = stage.sheet
      for (const label of stage.open()) {
        const next = `${code}/${label}/skipped/${this.departures.count(code, label, 'skipped') + 1}`
        if (key === next) this.leaveOut(stage, label, say('tightening.skipped_now', { stage: words, fastener: label }))
      }
    }
    this.departures.answer(entry, this.facts.managers ?? [])
  }

  restart(entry: RunEntry): void {
    const from = this.stages.findIndex((stage) => stage.sheet.code === entry.body['stage'])
    if (from < 0) return
    const again = this.stages.slice(from)
    for (const stage of again) {
      const words = turnedAgainWords(this.sheet, stage.sheet, stage.labels.size)
      if (words) this.departures.add('stretch_reused', stage.sheet.code, '', words)
      if (stage.done.length) stage.earlier.push(stage.done)
      stage.done = []
      stage.skipped = []
      stage.reported = new Set()
      stage.labels = new Set()
    }
    again[0]!.restarted += 1
    this.witnessed = null
    this.departures.restart(entry, again.map((stage) => stage.sheet.code))
  }

  witness(entry: RunEntry): void {
    this.witnessed = signed(entry)
  }

  close(entry: RunEntry): void {
    if (this.closed) return
    this.closed = signed(entry)
    for (const stage of this.stages) {
      for (const label of stage.open()) {
        this.leaveOut(stage, label, say('tightening.skipped_at_close', { stage: stage.sheet.words, fastener: label }))
      }
    }
  }

  private missing(): string[] {
    const tightens = this.direction === 'tighten'
    return [
      this.begun ? '' : say('tightening.no_beginning'),
      ...this.stages.map((stage) => fastenersMissing(stage.sheet, stage.open())),
      ...this.departures.open().map((departure) => this.departures.asks(departure)),
      // Letting go waits on nothing and needs nobody beside.
      ...((tightens && this.facts.holds) || []),
      witnessMissing(tightens && this.sheet.two_people, this.witnessed?.by ?? null, this.hands),
    ].filter(Boolean)
  }

  /** The state as it is now, apart from what was withdrawn. */
  state(): RunSoFarState {
    const now = this.stages.findIndex((stage) => stage.open().length > 0)
    const missing = this.missing()
    return {
      run: this.id,
      begun: this.begun ? signed(this.begun) : null,
      direction: this.direction,
      stage: now < 0 ? null : now,
      next: this.stages[now]?.open()[0] ?? null,
      complete: this.stages.every((stage) => !stage.missing().length),
      stages: this.stages.map((stage) => stage.state()),
      departures: this.departures.all.map((departure) => ({ ...departure })),
      pace: this.stages.flatMap((stage) => pace(stage.sheet.code, stage.done) ?? []),
      may_close: !this.closed && !missing.length,
      missing,
      closed: this.closed,
      witnessed: this.witnessed,
      people: [...this.people],
      strays: [...this.strays],
    }
  }
}

const STEPS: Record<string, (run: Run, entry: RunEntry) => void> = {
  tightening_begun: (run, entry) => run.begin(entry),
  fastener_tightened: (run, entry) => run.tap(entry),
  departure_answered: (run, entry) => run.answer(entry),
  tightening_stage_restarted: (run, entry) => run.restart(entry),
  tightening_witnessed: (run, entry) => run.witness(entry),
  tightening_closed: (run, entry) => run.close(entry),
}
