// The readings of one job, sorted by procedure, state, place and reading, and the figures they come to at each place.
// The twin of trade/sheets/job.py.

import { NOTHING, times } from '../ground/amounts.ts'
import { orNull } from '../ground/errors.ts'
import { evaluate, type Figure, type Input } from '../measuring/figures.ts'
import type { Known, Statement } from '../measuring/known.ts'
import { countsFor, covers, type Limit, type Size } from '../measuring/limits.ts'
import { beside, places, type Place } from '../engine/locations.ts'
import type { EngineType } from '../engine/parts.ts'
import { ofThePart, pointWords, quantityOf, readingCodes, type Procedure } from '../measuring/procedures.ts'
import { take, type SingleReading, type Taken } from './readings.ts'
import type { MeasuredBody, ReadingIn } from './types.ts'
import { byText, EARLIER, SORTS } from './words.ts'
import { atReference, isLong, type Made } from '../measuring/uncertainty.ts'
import { QUANTITIES, readQuantity, toSi, type Fraction } from '../ground/units.ts'

/** A figure of another procedure in the place of a reading. */
export interface Borrowed {
  procedure: string
  state: string
  place: string
  figure: Figure
  by: PlaceResult
}

/** What was read at one place, and its figures; readings in the order asked, then those the procedure does not know. */
export interface PlaceResult {
  taken: Map<string, Taken>
  borrowed: Map<string, Borrowed>
  sizes: Map<string, Size>
  inputs: Map<string, Input>
  figures: Figure[]
  /** true when lengths that count are brought to 20 °C, false when some are as they were read. */
  at20: Set<boolean>
}

type Groups = Map<string, Map<string, Map<string, ReadingIn[]>>>

const KIND_OF = new Map(QUANTITIES.map((quantity) => [quantity.code, quantity.kind]))

/** The readings of a job of one engine. What was worked out once is kept: one procedure at a time costs little. */
export class Job {
  readonly engineId: string
  readonly groups: Groups = new Map()
  /** Procedure and state of each group, in the order of the readings. */
  readonly keys: [string, string][] = []
  readonly everyPlace: Place[]
  private readonly worked = new Map<string, PlaceResult | null>()
  private readonly limits = new Map<string, Statement<Limit>[]>()
  private readonly editions = new Map<string, Set<number>>()
  private readonly stated = new Map<string, Size[]>()

  constructor(
    readonly engine: EngineType | null,
    readings: ReadingIn[],
    readonly known: Known,
    /** Every procedure in its newest edition, as for readings that are yet to be made. */
    readonly newest = false,
  ) {
    this.engineId = engine?.id ?? ''
    this.everyPlace = engine ? places(engine) : []
    for (const given of readings) {
      const body = given.body as unknown as MeasuredBody
      const [procedure, state] = [body.procedure ?? '', body.state ?? 'as_found']
      const group = this.group(procedure, state) ?? new Map<string, Map<string, ReadingIn[]>>()
      if (group.size === 0) this.keys.push([procedure, state])
      this.groups.set(`${procedure} ${state}`, group)
      const here = group.get(given.place) ?? new Map<string, ReadingIn[]>()
      group.set(given.place, here)
      const editions = this.editions.get(`${procedure} ${state}`) ?? new Set<number>()
      this.editions.set(`${procedure} ${state}`, editions.add(body.edition ?? 0))
      const code = codeOf(given)
      here.set(code, [...(here.get(code) ?? []), given])
    }
  }

  group(procedure: string, state: string): Map<string, Map<string, ReadingIn[]>> | undefined {
    return this.groups.get(`${procedure} ${state}`)
  }

  /**
   * The procedure in the edition that the readings in a state were made by, of several the last: a later one must not
   * change what they came to. The newest where nothing was read, or by editions that nobody knows here.
   */
  procedure(code: string, state: string): Procedure | null {
    const read = this.newest ? [] : [...(this.editions.get(`${code} ${state}`) ?? [])].sort((a, b) => b - a)
    const made = read.map((edition) => `${code} ${edition}`).find((key) => Object.hasOwn(this.known.editions, key))
    if (made !== undefined) return this.known.editions[made]!.data
    return Object.hasOwn(this.known.procedures, code) ? this.known.procedures[code]!.data : null
  }

  /**
   * Readings and figures of a procedure at a place; null when two procedures borrow from each other in a ring. All lengths
   * that go into its figures are brought to 20 °C, or none: one that is and one that is not make a difference that holds
   * at no temperature. With `asRead` none.
   */
  at(code: string, state: string, place: string, asRead = false): PlaceResult | null {
    const key = `${code} ${state} ${place} ${asRead}`
    const known = this.worked.get(key)
    if (known !== undefined) return known
    this.worked.set(key, null)
    const made = this.workOut(code, state, place, asRead)
    const result = made.at20.size < 2 ? made : this.at(code, state, place, true)
    this.worked.set(key, result)
    return result
  }

  /** The sizes that the engine type has for a procedure, withdrawn ones left out. */
  sizesOf(code: string): Size[] {
    const known = this.stated.get(code)
    if (known) return known
    const sizes = Object.values(this.known.sizes)
      .map((size) => size.data)
      .filter((size) => !size.withdrawn && size.engine_type === this.engineId && size.procedure === code)
    this.stated.set(code, sizes)
    return sizes
  }

  /** The sizes of a procedure at a place, by code: of several the one for fewer places, then the later. */
  sizes(code: string, place: string): Map<string, Size> {
    const here = this.sizesOf(code).filter((size) => covers(size.where, place))
    const wideFirst = [...here.filter((size) => size.where.length === 0), ...here.filter((size) => size.where.length > 0)]
    return new Map(wideFirst.map((size) => [size.code, size]))
  }

  /** The limits of a procedure that judge a state, on a day ("" for any), at whatever place. */
  limitsOf(code: string, state: string, on: string): Statement<Limit>[] {
    const key = `${code} ${state} ${on}`
    const limits =
      this.limits.get(key) ??
      this.judging(Object.values(this.known.limits).filter((limit) => limit.data.procedure === code), code, state, on)
    this.limits.set(key, limits)
    return limits
  }

  /** Of some limits those that judge a procedure in a state on a day; in the order of their sorts. */
  judging(statements: Statement<Limit>[], code: string, state: string, on: string): Statement<Limit>[] {
    const sorts = SORTS[state] ?? SORTS['built']!
    const limits = statements.filter(
      ({ data }) => sorts.includes(data.sort) && countsFor({ ...data, where: [] }, this.engineId, code, '', on),
    )
    // A journal ground to the next size is no worn standard one: what machining must reach replaces the rest.
    const cut = limits.map(({ data }) => data).filter(({ sort }) => sort === 'machining')
    return limits
      .filter(({ data }) => data.sort === 'machining' || !replaced(data, cut))
      .sort((a, b) => sorts.indexOf(a.data.sort) - sorts.indexOf(b.data.sort))
  }

  private workOut(code: string, state: string, place: string, asRead: boolean): PlaceResult {
    const procedure = this.procedure(code, state)
    const read = this.group(code, state)?.get(place) ?? new Map<string, ReadingIn[]>()
    const sizes = procedure ? this.sizes(code, place) : new Map<string, Size>()
    const taken = this.takeAll(procedure, read, sizes.get('material')?.values[0] ?? '', asRead)
    const result: PlaceResult = { taken, borrowed: new Map(), sizes, inputs: new Map(), figures: [], at20: new Set() }
    if (!procedure) return result
    const codes = readingCodes(procedure)
    for (const reading of procedure.readings) {
      if (!reading.borrow || result.taken.has(reading.code)) continue
      const borrowed = this.borrow(reading.borrow, state, place, asRead)
      if (borrowed) result.borrowed.set(reading.code, borrowed)
    }
    for (const [name, { input, made }] of taken) {
      if (!codes.includes(name)) continue
      if (input) result.inputs.set(name, input)
      if (made && isLong(made)) result.at20.add(atReference(made))
    }
    for (const { by } of result.borrowed.values()) for (const name of by.at20) result.at20.add(name)
    const { single, many } = stated(procedure, sizes)
    for (const [name, input] of single) result.inputs.set(name, input)
    for (const [name, { figure }] of result.borrowed) {
      result.inputs.set(name, { amount: figure.amount ?? NOTHING, unit: figure.unit, places: figure.places })
    }
    result.figures = evaluate(procedure, Object.fromEntries(result.inputs), Object.fromEntries(many))
    return result
  }

  /** The readings of the procedure in its order, then those that it does not know, by name. */
  private takeAll(procedure: Procedure | null, read: Map<string, ReadingIn[]>, material: string, asRead: boolean): Map<string, Taken> {
    const codes = procedure ? readingCodes(procedure) : []
    const unknown = [...read.keys()].filter((name) => !codes.includes(name)).sort(byText)
    return new Map([...codes, ...unknown].filter((name) => read.has(name)).map((name) => {
      const known = procedure && codes.includes(name) ? procedure : null
      const kind = known ? KIND_OF.get(quantityOf(known, name))! : ''
      const words = known ? pointWords(known, name) : name
      const stated = known && ofThePart(known, name) ? material : ''
      return [name, take(name, words, kind, read.get(name)!, this.known, stated, asRead)]
    }))
  }

  private borrow(borrow: NonNullable<Procedure['readings'][0]['borrow']>, state: string, place: string, asRead: boolean) {
    if (!this.engine) return null
    const there = beside(this.engine, place, borrow.part, this.everyPlace)
    for (const earlier of EARLIER[state] ?? [state]) {
      if (there === '' || !this.group(borrow.procedure, earlier)?.has(there)) continue
      const at = this.at(borrow.procedure, earlier, there, asRead)
      const figure = at?.figures.find((its) => its.code === borrow.figure)
      if (at && figure && figure.amount !== null) {
        return { procedure: borrow.procedure, state: earlier, place: there, figure, by: at }
      }
    }
    return null
  }
}

function replaced(limit: Limit, cut: readonly Limit[]): boolean {
  const same = (cutLimit: Limit) => cutLimit.where.length === 0 || cutLimit.where.join() === limit.where.join()
  return cut.some((cutLimit) => cutLimit.figure === limit.figure && same(cutLimit))
}

/** What was read: the reading of the procedure; outside any, the quantity and the point. */
function codeOf(given: ReadingIn): string {
  const body = given.body as unknown as MeasuredBody
  return body.reading || [body.quantity, given.point].filter(Boolean).join(', ')
}

/** The sizes of a place as inputs: single ones, and sets. One that cannot be read counts as not there. */
function stated(procedure: Procedure, sizes: Map<string, Size>) {
  const single = new Map<string, Input>()
  const many = new Map<string, Input[]>()
  for (const procedureSize of procedure.sizes) {
    const size = sizes.get(procedureSize.code)
    if (!size || procedureSize.quantity === '') continue
    const read = orNull(() => size.values.map((value) => readQuantity(procedureSize.quantity, value, size.unit)))
    if (!read) continue
    const inputs = read.map(({ amount, unit, places }) => ({ amount: toSi(amount, unit), unit, places }))
    if (procedureSize.many) many.set(procedureSize.code, inputs)
    else single.set(procedureSize.code, inputs[0]!)
  }
  return { single, many }
}

/**
 * The weight of every reading in a figure and the readings themselves. Those of a borrowed figure come under names of
 * their own (":journal:front/0"), so that they never meet another of the same name.
 */
export function contributions(at: PlaceResult, figure: Figure): { weights: Record<string, Fraction>; made: Record<string, Made> } {
  const weights: Record<string, Fraction> = {}
  const made: Record<string, Made> = {}
  // In the order asked. An object would put readings that are whole numbers ("90", "0") first, hence the colons.
  for (const name of figure.picked.filter((code) => Object.hasOwn(figure.weights, code))) {
    const weight = figure.weights[name]!
    const borrowed = at.borrowed.get(name)
    const taken = at.taken.get(name)
    if (borrowed) {
      const inner = contributions(borrowed.by, borrowed.figure)
      for (const [code, part] of Object.entries(inner.weights)) {
        weights[`:${name}${code}`] = times(weight, part)
        made[`:${name}${code}`] = { ...inner.made[code]!, code: `${name}${code}` }
      }
    } else if (taken?.made) {
      weights[`:${name}`] = weight
      made[`:${name}`] = taken.made
    }
  }
  return { weights, made }
}

/** The single readings that a figure comes from, borrowed ones included, those that cannot be counted with left out. */
export function readFor(at: PlaceResult, figure: Figure): SingleReading[] {
  return figure.picked.flatMap((name) => {
    const borrowed = at.borrowed.get(name)
    if (borrowed) return readFor(borrowed.by, borrowed.figure)
    return (at.taken.get(name)?.values ?? []).filter((value) => value.amount !== null)
  })
}

/** Every single reading on a sheet, borrowed ones included, each once. */
export function allRead(at: Map<string, PlaceResult>): SingleReading[] {
  const readings = new Map<string, SingleReading>()
  for (const here of at.values()) {
    for (const taken of here.taken.values()) for (const value of taken.values) readings.set(value.given.id, value)
    for (const borrowed of here.borrowed.values()) {
      for (const reading of readFor(borrowed.by, borrowed.figure)) readings.set(reading.given.id, reading)
    }
  }
  return [...readings.values()].sort((a, b) => byText(a.given.id, b.given.id))
}
