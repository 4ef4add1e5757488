// One stage of a run as far as it is done, and the rows in which entries of a run are shown. The twin of
// trade/tightening/rows.py.

import type { TighteningStage } from './stages.ts'
import type { Tap, RunEntry } from './entries.ts'

export interface DoneRow {
  label: string
  value: string
  unit: string
  given: string
  method: string
  tool: string
  tool_id: string
  set_value: string
  remark: string
  at: string
  by: string
  entry: string
  /** Order number as done, and as asked for; 0 where the sheet has neither. */
  position: number
  asked: number
  /** Done before in this stage. */
  again: boolean
}

export interface Signed {
  entry: string
  by: string
  at: string
  remark: string
}

export interface WithdrawnRow {
  label: string
  stage: string
  entry: string
  kind: string
  by: string
  at: string
}

export interface StageState extends TighteningStage {
  done: DoneRow[]
  /** Not done; some of them may have been left out. */
  missing: string[]
  skipped: string[]
  restarted: number
  /** What was done before each restart. */
  earlier: DoneRow[][]
}

/** A stage as far as it is done since its last restart; `skipped` are fasteners that were left out. */
export class Stage {
  done: DoneRow[] = []
  skipped: string[] = []
  earlier: DoneRow[][] = []
  restarted = 0
  reported = new Set<string>()
  labels = new Set<string>()

  constructor(readonly sheet: TighteningStage) {}

  add(row: DoneRow): void {
    this.done.push(row)
    this.labels.add(row.label)
  }

  missing(): string[] {
    return this.sheet.order.filter((label) => !this.labels.has(label))
  }

  /** The fasteners that are still asked for, the next one first. */
  open(): string[] {
    return this.missing().filter((label) => !this.skipped.includes(label))
  }

  state(): StageState {
    const { code, words, method, target, unit, minus, plus, order, proposed, after } = this.sheet
    const missing = this.missing()
    return {
      code, words, method, target, unit, minus, plus, order, proposed, after,
      done: [...this.done],
      missing,
      skipped: missing.filter((label) => this.skipped.includes(label)),
      restarted: this.restarted,
      earlier: [...this.earlier],
    }
  }
}

/** Who began, witnessed or closed a run, and when. */
export function signed(entry: RunEntry): Signed {
  return { entry: entry.id, by: entry.author, at: entry.claimed, remark: String(entry.body['remark'] ?? '') }
}

/** A tap as it is shown; one that the tool told of counts as the target. */
export function doneRow(entry: RunEntry, stage: Stage | null): DoneRow {
  const body = entry.body as unknown as Tap
  const shown = stage && body.given === 'tap' ? stage.sheet : null
  return {
    given: body.given, method: body.method, tool: body.tool, tool_id: body.tool_id, set_value: body.set_value,
    remark: body.remark,
    label: body.fastener,
    value: shown ? shown.target : body.value,
    unit: shown ? shown.unit : body.unit,
    at: entry.claimed,
    by: entry.author,
    entry: entry.id,
    position: stage ? stage.done.length + 1 : 0,
    asked: stage ? stage.sheet.order.indexOf(body.fastener) + 1 : 0,
    again: false,
  }
}

/** An entry of the run that was taken back. */
export function withdrawnRow(entry: RunEntry): WithdrawnRow {
  const { fastener = '', stage = '' } = entry.body as { fastener?: string; stage?: string }
  return { label: fastener, stage, entry: entry.id, kind: entry.kind, by: entry.author, at: entry.claimed }
}
