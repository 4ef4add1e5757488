// What the workshop has said of gauges, limits, sizes, procedures and rules: what counts now and what was said before.
// The twin of trade/measuring/known.py.

import type { Gauge } from './gauges.ts'
import { countsFor, type Limit, type Size } from './limits.ts'
import { places } from '../engine/locations.ts'
import { DEFAULT, type Rules } from './rules.ts'
import type { EngineType } from '../engine/parts.ts'
import { ofPart, type Procedure, BUILT_IN } from './procedures.ts'
import type { KnownEntry } from './entries.ts'

/** One statement: `entry` is its identifier, "" for a procedure that comes with the program. */
export interface Statement<What = unknown> {
  entry: string
  kind: string
  data: What
  claimed: string
}

export interface Known {
  /** What counts now, by identifier. */
  gauges: Record<string, Statement<Gauge>>
  limits: Record<string, Statement<Limit>>
  sizes: Record<string, Statement<Size>>
  /** By code, those that come with the program included. */
  procedures: Record<string, Statement<Procedure>>
  /** null while nobody set any: the defaults count. */
  rules: Statement<Rules> | null
  /** Every statement ever made. */
  byEntry: Record<string, Statement>
  /** Each gauge's descriptions, oldest first. */
  history: Record<string, Statement<Gauge>[]>
  /** Every procedure by its code and edition: "own_seat 2". */
  editions: Record<string, Statement<Procedure>>
}

const FIELD: Record<string, string> = {
  gauge_described: 'gauge',
  limit_set: 'limit',
  size_set: 'size',
  procedure_described: 'procedure',
  measuring_rules_set: 'rules',
}
const MOST_IN_BASIS = 40

/** All that counts, from the workshop's entries in the order of the log; entries of other kinds are passed over. */
export function known(entries: KnownEntry[]): Known {
  const procedures = Object.fromEntries(
    Object.entries(BUILT_IN).map(([code, data]) => [code, { entry: '', kind: 'procedure_described', data, claimed: '' }]),
  )
  const editions = Object.fromEntries(Object.values(procedures).map((statement) => [`${statement.data.code} ${statement.data.edition}`, statement]))
  const register: Known = { gauges: {}, limits: {}, sizes: {}, procedures, rules: null, byEntry: {}, history: {}, editions }
  for (const { id, kind, body, claimed } of entries) {
    if (!Object.hasOwn(FIELD, kind)) continue
    const statement: Statement<any> = { entry: id, kind, data: body[FIELD[kind]!], claimed }
    register.byEntry[id] = statement
    if (kind === 'gauge_described') {
      register.gauges[statement.data.id] = statement
      register.history[statement.data.id] = [...(register.history[statement.data.id] ?? []), statement]
    } else if (kind === 'limit_set') register.limits[statement.data.id] = statement
    else if (kind === 'size_set') register.sizes[statement.data.id] = statement
    else if (kind === 'procedure_described') {
      register.procedures[statement.data.code] = statement
      register.editions[`${statement.data.code} ${statement.data.edition}`] = statement
    } else register.rules = statement
  }
  return register
}

/** The workshop's measuring rules, or the defaults. */
export function rulesOf(known: Known): Rules {
  return known.rules?.data ?? DEFAULT
}

/**
 * The gauge that gave a reading, as it was described then: as the reading's basis names it, else the newest description
 * claimed to be older than the reading, else the first. `gauge` is the identifier that the reading names, and it alone
 * says which gauge. null for '' and for a gauge that nobody described.
 */
export function gaugeOf(known: Known, basis: string[], gauge: string, claimed: string): Gauge | null {
  for (const id of basis) {
    const statement = Object.hasOwn(known.byEntry, id) ? known.byEntry[id]! : null
    if (statement?.kind !== 'gauge_described') continue
    const what = statement.data as Gauge
    if (gauge === what.id) return what
  }
  const history = Object.hasOwn(known.history, gauge) ? known.history[gauge]! : []
  const when = Date.parse(claimed)
  return (history.findLast((statement) => Date.parse(statement.claimed) <= when) ?? history[0])?.data ?? null
}

/**
 * The entries that a reading taken now is judged by: gauge, rules, procedure, limits and sizes; at most 40, which is
 * what an entry can name. `engineType` and `gauge` are identifiers or "", `on` a day or "" for any.
 */
export function basisFor(
  known: Known,
  engineType: string,
  procedure: string,
  place: string,
  gauge: string,
  on = '',
): string[] {
  const own = <T>(of: Record<string, T>, key: string) => (Object.hasOwn(of, key) ? of[key]! : null)
  const counting = [...Object.values(known.limits), ...Object.values(known.sizes)].filter((statement) =>
    countsFor(statement.data, engineType, procedure, place, on),
  )
  return [own(known.gauges, gauge), known.rules, own(known.procedures, procedure), ...counting]
    .flatMap((statement) => statement?.entry || [])
    .slice(0, MOST_IN_BASIS)
}

/** The procedures that measure a part, those of the program first; none for a part that this engine has not. */
export function proceduresFor(known: Known, engine: EngineType | null, part: string): Procedure[] {
  if (engine && !places(engine).some((place) => place.part === part)) return []
  return ofPart(part, Object.values(known.procedures).map((procedure) => procedure.data))
}
