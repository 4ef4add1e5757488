// The trade has shapes of its own, for the phone makes, reads and judges them without a server. Where the server answers
// the same things, its description and the trade's type must be one shape: nothing here runs, `npm run check` fails when
// they part.

import type { EngineType } from '../trade/engine/parts.ts'
import type { Fault } from '../trade/ground/errors.ts'
import type { Gauge } from '../trade/measuring/gauges.ts'
import type { Limit, Size } from '../trade/measuring/limits.ts'
import type { Procedure } from '../trade/measuring/procedures.ts'
import type { Rules } from '../trade/measuring/rules.ts'
import type { OwnWord } from '../trade/record/own_words.ts'
import type { Sheet, Wear } from '../trade/sheets/types.ts'
import type { Result, SpokenNote } from '../trade/spoken/notes.ts'
import type { PreloadWords } from '../trade/tightening/preload_estimate.ts'
import type { RunState } from '../trade/tightening/run.ts'
import type { TighteningSheet } from '../trade/tightening/sheets.ts'
import type { TorqueTool } from '../trade/tightening/tools.ts'
import type * as wire from './openapi.d.ts'

/** One shape down to the last field, required alike: lists and objects are opened, the rest is compared as it is. */
type Same<A, B> = (<T>() => T extends Opened<A> ? 1 : 2) extends <T>() => T extends Opened<B> ? 1 : 2 ? true : false
type Opened<T> = T extends readonly [unknown, ...unknown[]]
  ? { [place in keyof T]: T[place] }
  : T extends readonly (infer One)[]
    ? Opened<One>[]
    : T extends object
      ? { [field in keyof T]: Opened<T[field]> }
      : T

/** What the server says beside a run's state. */
type BesideARun = 'bolts' | 'exhibits' | 'joint' | 'joint_name' | 'people' | 'preload' | 'remark' | 'sheet' | 'sheet_entry' | 'sheet_newest' | 'use'

type Held<T extends true> = T

export type HeldTogether = [
  Held<Same<EngineType, wire.EngineType>>,
  Held<Same<Fault, wire.Fault>>,
  Held<Same<Gauge, wire.Gauge>>,
  Held<Same<Limit, wire.Limit>>,
  Held<Same<Size, wire.Size>>,
  Held<Same<Procedure, wire.Procedure>>,
  Held<Same<Rules, wire.MeasuringRules>>,
  Held<Same<OwnWord, Omit<wire.OwnWord, 'retired'>>>,
  Held<Same<Sheet, wire.Sheet>>,
  Held<Same<Wear, wire.Change>>,
  Held<Same<Omit<Result, 'words'>, Omit<wire.HeardResult, 'words'>>>,
  Held<Same<Result['words'], Exclude<wire.HeardResult['words'], undefined>>>,
  Held<Same<SpokenNote['state'], Exclude<wire.SpokenNote['state'], 'undecodable'>>>,
  Held<Same<Pick<SpokenNote, 'text' | 'by' | 'words' | 'engine' | 'transcript'>, Pick<wire.SpokenNote, 'text' | 'by' | 'words' | 'engine' | 'transcript'>>>,
  Held<Same<PreloadWords, wire.Preload>>,
  Held<Same<Omit<RunState, 'people'>, Omit<wire.TighteningRun, BesideARun>>>,
  Held<Same<TighteningSheet, wire.TighteningSheet>>,
  Held<Same<TorqueTool, wire.TorqueTool>>,
]
