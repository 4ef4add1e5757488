// The makers of the records of a tightening: as it happened, whatever the tightening sheet asks.
import { tightening } from '../store/index.ts'
import { TYPED, type Spoken } from '../trade/record/kinds.ts'
import { basisForRun } from '../trade/tightening/known.ts'
import { uuid7 } from '../trade/ground/uuid7.ts'
import { capture, type Saved } from './entry.ts'
import { asKept, there } from './facts.ts'
import { locationOf, type Where } from './where.ts'
import { proven } from './who.ts'

/** One fastener by itself. */
export interface Tightened {
  fastener: string
  value: string
  unit: string
  method: string
  tool: string
  state: string
  remark: string
}

export interface NewRun {
  /** The sheet's identifier. */
  sheet: string
  joint: string
  direction: 'tighten' | 'loosen'
  bolts: 'new' | 'used' | 'unknown'
  /** How many times they were tightened before. */
  use: number
  remark: string
}

/** One fastener of a run. What it is judged by is added here. */
export interface Tapped extends Tightened {
  run: string
  sheet: string
  stage: string
  given: 'tap' | 'typed'
  tool_id: string
  set_value: string
}

/** Somebody else than who is signed in, with the PIN that proves it. */
export interface Second {
  person: string
  pin: string
}

const OUTSIDE_A_RUN = { run: '', stage: '', given: 'typed', tool_id: '', set_value: '', basis: [] }

export const tighten = (at: Where, tightened: Tightened, spoken: Spoken = TYPED) =>
  there('fastener_tightened', at, { ...OUTSIDE_A_RUN, ...tightened, ...asKept(spoken) })

export async function beginRun(at: Where, begun: NewRun): Promise<Saved & { run: string }> {
  const run = uuid7()
  const basis = basisForRun(tightening.value, begun.sheet)
  return { ...(await there('tightening_begun', at, { run, basis, ...begun })), run }
}

export function tap(at: Where, { sheet, ...tapped }: Tapped, spoken: Spoken = TYPED): Promise<Saved> {
  const basis = basisForRun(tightening.value, sheet, tapped.tool_id)
  return there('fastener_tightened', at, { ...tapped, basis, ...asKept(spoken) })
}

export const restartStage = (at: Where, run: string, stage: string, reason: string) =>
  there('tightening_stage_restarted', at, { run, stage, reason })

export const closeRun = (at: Where, run: string, remark: string) => there('tightening_closed', at, { run, remark })

/** The reason of a deviation; a second person's when the PIN is theirs. Rejects with WrongPin too. */
export const answerDeparture = (at: Where, run: string, departure: string, reason: string, second?: Second) =>
  signedBy('departure_answered', at, { run, departure, reason }, second)

/** The second person signs; who is signed in stays so. Rejects with WrongPin too. */
export const witnessRun = (at: Where, run: string, remark: string, second?: Second) =>
  signedBy('tightening_witnessed', at, { run, remark }, second)

async function signedBy(kind: string, at: Where, body: Record<string, unknown>, second?: Second): Promise<Saved> {
  const author = second && (await proven(second.person, second.pin)).id
  return capture({ kind, job: at.job, location: locationOf(at), body, author })
}
