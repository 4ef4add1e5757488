// What the workshop has said of gauges, limits, sizes, procedures and rules. The twin of trade/known.py.

import type { EngineType } from './parts.ts'
import type { KnownEntry } from './sheet_types.ts'

/** One statement: `entry` is its identifier, "" for a procedure that comes with the program. */
export interface Said {
  entry: string
  kind: string
  what: any
  claimed: string
}

export interface Known {
  /** The newest description by the identifier of the gauge. */
  gauges: Record<string, Said>
  limits: Record<string, Said>
  sizes: Record<string, Said>
  /** By code, those that come with the program included. */
  procedures: Record<string, Said>
  /** null while the workshop has set none: the defaults count. */
  rules: Said | null
  byEntry: Record<string, Said>
  /** Each gauge's descriptions, oldest first. */
  history: Record<string, Said[]>
}

/** All that counts, from the workshop's entries in the order of the log; entries of other kinds are passed over. */
export function known(_entries: KnownEntry[]): Known {
  return { gauges: {}, limits: {}, sizes: {}, procedures: {}, rules: null, byEntry: {}, history: {} }
}

/** The entries that a reading taken now is judged by: its gauge, rules, procedure, limits and sizes. At most 40. */
export function basisFor(
  _known: Known,
  _engineType: string,
  _procedure: string,
  _place: string,
  _gauge: string,
): string[] {
  return []
}

/** The procedures for a part of this engine, those of the workshop after those that come with the program. */
export function proceduresFor(_known: Known, _engine: EngineType | null, _part: string): any[] {
  return []
}
