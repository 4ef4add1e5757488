// The lines of a procedure judged: operations, names, axes and kinds of value that fit.
// The twin of trade/procedure_lines.py; what an operation does is said in trade/procedures.py.

import table from '../../../../server/witnessmark/trade/data/operations.json'
import * as shapes from '../ground/shapes.ts'
import { UNITS } from '../ground/units.ts'

export interface Operation {
  do: string
  words: string
  least: number
  /** null: any number of values. */
  most: number | null
  along: boolean
  by: boolean
}

export interface AcrossOperation {
  do: string
  words: string
  share: boolean
}

/** What a name stands for: the kind of its value (null while that is in doubt) and its sort. */
export interface Name {
  kind: string | null
  sort: 'reading' | 'size' | 'set' | 'text' | 'figure'
}

export type Add = (where: string, message: string) => void
type Loose = Record<string, any>

export const OPERATIONS: Record<string, Operation> = byCode(table.figures as Operation[])
export const ACROSS: Record<string, AcrossOperation> = byCode(table.across)
export const KINDS: string[] = [...new Set(Object.values(UNITS).map((unit) => unit.kind))]
// Degrees Celsius and Fahrenheit have their zero elsewhere: a difference of two temperatures is no temperature.
export const ZERO_ELSEWHERE = new Set(Object.values(UNITS).filter((unit) => unit.offset).map((unit) => unit.kind))
const PURE = ['number', 'share']
const KEEP = ['taken', 'largest', 'smallest', 'mean', 'nearest']

const CODE = /^[a-z][a-z0-9_]{0,39}$/
const FRACTION = /^-?[0-9]{1,9}(\/[1-9][0-9]{0,8})?$/
const SHARE = /^[0-9]{1,9}(\/[1-9][0-9]{0,8})?$/
const badWords = shapes.text(80, 1)
const badDefinition = shapes.text(500)
const badGuideWords = shapes.text(200, 1)
const FIGURE = ['code', 'words', 'kind', 'do', 'of', 'along', 'by', 'definition', 'guide']
const ACROSS_FIELDS = ['code', 'words', 'do', 'of', 'share', 'definition']

function byCode<T extends { do: string }>(list: T[]): Record<string, T> {
  return Object.assign(Object.create(null), Object.fromEntries(list.map((one) => [one.do, one])))
}

const fits = (pattern: RegExp, value: unknown): value is string => typeof value === 'string' && pattern.test(value)
const isOne = (table: object, value: unknown): value is string => typeof value === 'string' && value in table

/** Adds the faults of the lines of `figures`, and their names to `names`. */
export function checkFigures(
  figures: unknown[], names: Map<string, Name>, axes: Map<string, number>, grid: string[], add: Add,
) {
  const codes = figures.map((line) => (shapes.isObject(line) ? line['code'] : null))
  figures.forEach((figure, index) => {
    const where = `figures.${index}`
    let faulty = false
    const note: Add = (at, message) => {
      faulty = true
      add(at, message)
    }
    if (!shapes.hasExactly(figure, FIGURE)) {
      note(where, `Line ${index + 1} has exactly ${FIGURE.join(', ')}.`)
      const code = shapes.isObject(figure) ? figure['code'] : null
      if (typeof code === 'string' && !names.has(code)) names.set(code, { kind: null, sort: 'figure' })
      return
    }
    const line = head(where, `Line ${index + 1}`, figure, names, note)
    const kind = figure['kind'] as string
    const knownKind = typeof kind === 'string' && KINDS.includes(kind)
    if (!knownKind) note(`${where}.kind`, `${line}: kind is none of ${KINDS.join(', ')}.`)
    const later = codes.slice(index)
    const of = ofNames(where, line, figure['of'], names, grid, later, note)
    operation(where, line, figure, of, axes, knownKind, note)
    guide(where, line, figure['guide'], names, later, note)
    const code = figure['code']
    if (typeof code === 'string' && !names.has(code)) {
      // The kind of a faulty line is in doubt: lines that use it are not blamed for it.
      names.set(code, { kind: faulty ? null : kind, sort: 'figure' })
    }
  })
}

function head(where: string, line: string, one: Loose, names: Map<string, Name>, add: Add): string {
  const code = one['code']
  let label = line
  if (!fits(CODE, code)) add(`${where}.code`, `${line}: code is no code of small letters, digits and _.`)
  else {
    label = `${line} (${code})`
    if (code === 'grid') add(`${where}.code`, `${label}: 'grid' stands for all readings of the grid.`)
    else if (names.has(code)) add(`${where}.code`, `${label}: the name '${code}' is used twice.`)
  }
  const words = badWords(one['words'])
  if (words) add(`${where}.words`, `${label}: words ${words}.`)
  const definition = badDefinition(one['definition'])
  if (definition) add(`${where}.definition`, `${label}: definition ${definition}.`)
  return label
}

function against(name: string, names: Map<string, Name>, later: unknown[]): string | null {
  const known = names.get(name)
  if (known) return known.sort === 'text' ? `'${name}' is a text and no value` : null
  if (later.includes(name)) return `'${name}' comes later; a line uses only earlier ones`
  return `there is no '${name}'. Use a reading, a size or an earlier figure`
}

/** What the names of a line stand for, "grid" spelled out; null when one of them is in doubt. */
function ofNames(
  where: string, line: string, of: unknown, names: Map<string, Name>, grid: string[], later: unknown[], add: Add,
): Name[] | null {
  if (!Array.isArray(of) || of.length < 1 || of.length > 60 || of.some((name) => typeof name !== 'string')) {
    add(`${where}.of`, `${line}: of is a list of 1 to 60 names.`)
    return null
  }
  const spelled: string[] = []
  let faulty = false
  const note = (reason: string) => {
    faulty = true
    add(`${where}.of`, `${line}: ${reason}.`)
  }
  for (const name of of as string[]) {
    const reason = name === 'grid' ? null : against(name, names, later)
    if (name === 'grid' && !grid.length) note('the procedure has no grid')
    else if (name === 'grid') spelled.push(...grid)
    else if (reason) note(reason)
    else spelled.push(name)
  }
  const twice = spelled.find((name, index) => spelled.indexOf(name) < index)
  if (twice !== undefined) note(`'${twice}' is named twice`)
  return faulty ? null : spelled.map((name) => names.get(name)!)
}

function operation(
  where: string, line: string, figure: Loose, of: Name[] | null, axes: Map<string, number>, knownKind: boolean,
  add: Add,
) {
  const { do: what, along, by } = figure
  if (!isOne(OPERATIONS, what)) {
    const named = typeof what === 'string' ? `'${what}'` : 'of that sort'
    const known = Object.keys(OPERATIONS).join(', ')
    return add(`${where}.do`, `${line}: there is no operation ${named}. Known are ${known}.`)
  }
  const spec = OPERATIONS[what]!
  let faulty = false
  const note: Add = (at, message) => {
    faulty = true
    add(`${where}.${at}`, `${line}: ${message}.`)
  }
  const steps = typeof along === 'string' ? axes.get(along) : undefined
  if (spec.along && steps === undefined) {
    const known = axes.size ? `its axes are ${[...axes.keys()].join(', ')}` : 'the procedure has none'
    note('along', `${what} needs an axis of the grid in along; ${known}`)
  } else if (spec.along && !(Array.isArray(figure['of']) && figure['of'].length === 1 && figure['of'][0] === 'grid')) {
    note('of', `${what} works on the whole grid: of is grid alone`)
  } else if (what === 'middle_less_ends' && steps !== 3) {
    note('along', `${what} needs an axis of 3 values; ${along} has ${steps}`)
  } else if (spec.along && steps! < 2) {
    note('along', `${what} needs an axis of 2 values or more; ${along} has 1`)
  } else if (!spec.along && along !== '') note('along', `${what} has no use for along; leave it empty`)
  if (spec.by && !fits(FRACTION, by)) note('by', `${what} needs a fraction such as 1/2 in by`)
  else if (!spec.by && by !== '') note('by', `${what} has no use for by; leave it empty`)
  if (!of) return
  if (of.length < spec.least || (spec.most !== null && of.length > spec.most)) {
    const wanted = spec.least === spec.most ? `${spec.least}` : `${spec.least} or more`
    note('of', `${what} takes ${wanted}, not ${of.length}`)
  } else {
    const reason = sets(what, of)
    if (reason) note('of', reason)
  }
  if (faulty || !knownKind || of.some((name) => name.kind === null)) return
  const [allowed, reason] = whatComesOut(what, of.map((name) => name.kind!))
  if (reason) note('of', reason)
  else if (!allowed.includes(figure['kind'])) {
    note('kind', `this gives a ${allowed.join(' or ')}, not a ${figure['kind']}`)
  }
}

function sets(what: string, of: Name[]): string | null {
  const found = of.flatMap((name, index) => (name.sort === 'set' ? [index] : []))
  if (what === 'nearest') {
    return found.length === 1 && found[0] === 1 ? null : 'nearest takes a value and then a size of many values'
  }
  return found.length ? `${what} takes no size of many values; only nearest does` : null
}

/** The kinds that a figure may have after an operation on values of `kinds`, or the reason why there is none. */
export function whatComesOut(what: string, kinds: string[]): [allowed: string[], reason: string] {
  const first = kinds[0]!
  const last = kinds.at(-1)!
  const nothing = (reason: string): [string[], string] => [[], reason]
  const noMeaning = (kind: string) => nothing(`${what} of a ${kind} has no meaning: its zero lies elsewhere`)
  const [wanted, result] = ({
    cylinder_volume: [['length', 'length'], 'volume'],
    ratio_of_volumes: [['volume', 'volume'], 'number'],
    per_thousand: [[first, 'speed'], first],
  } as Record<string, [string[], string]>)[what] ?? [null, '']
  if (wanted) {
    if (kinds.join(' ') !== wanted.join(' ')) {
      return nothing(`${what} takes ${wanted.join(' and ')}, not ${kinds.join(' and ')}`)
    }
    return ZERO_ELSEWHERE.has(first) ? noMeaning(first) : [[result], '']
  }
  const elsewhere = KEEP.includes(what) ? undefined : kinds.find((kind) => ZERO_ELSEWHERE.has(kind))
  if (elsewhere !== undefined) return noMeaning(elsewhere)
  const [pureFirst, pureLast] = [PURE.includes(first), PURE.includes(last)]
  if (what === 'product') {
    if (pureFirst && pureLast) return [PURE, '']
    if (pureFirst || pureLast) return [[pureFirst ? last : first], '']
    return nothing(`a product of ${first} and ${last} has no unit here; one of the two must be a number or a share`)
  }
  if (what === 'quotient') {
    if (first === last || (pureFirst && pureLast)) return [PURE, '']
    return pureLast ? [[first], ''] : nothing(`${first} divided by ${last} has no unit here`)
  }
  const other = kinds.find((kind) => kind !== first)
  return other === undefined ? [[first], ''] : nothing(`${what} cannot put together ${first} and ${other}`)
}

function guide(where: string, line: string, given: unknown, names: Map<string, Name>, later: unknown[], add: Add) {
  if (given === null) return
  const at = `${where}.guide`
  if (!shapes.hasExactly(given, ['words', 'of', 'by'])) return add(at, `${line}: a guide has exactly words, of and by.`)
  const words = badGuideWords(given['words'])
  if (words) add(`${at}.words`, `${line}: the wording of the guide ${words}.`)
  const { of, by } = given as Loose
  if (of === '' && by === '') return
  const reason = typeof of === 'string' ? against(of, names, later) : null
  if (typeof of !== 'string') add(`${at}.of`, `${line}: the guide's of is not a name.`)
  else if (reason) add(`${at}.of`, `${line}: in the guide ${reason}.`)
  else if (names.get(of)!.sort === 'set') add(`${at}.of`, `${line}: in the guide '${of}' is a size of many values.`)
  if (!fits(FRACTION, by)) add(`${at}.by`, `${line}: the guide needs a fraction such as 1/1000 in by.`)
}

/** Adds the faults of the lines of `across`. */
export function checkAcross(across: unknown[], names: Map<string, Name>, add: Add) {
  const codes = new Set<string>()
  across.forEach((one, index) => {
    const where = `across.${index}`
    if (!shapes.hasExactly(one, ACROSS_FIELDS)) {
      return add(where, `Line ${index + 1} across has exactly ${ACROSS_FIELDS.join(', ')}.`)
    }
    const line = head(where, `Line ${index + 1} across`, one, names, add)
    const { code, of, do: what, share } = one as Loose
    if (typeof code === 'string') {
      if (codes.has(code) && !names.has(code)) add(`${where}.code`, `${line}: the name '${code}' is used twice.`)
      codes.add(code)
    }
    const name = typeof of === 'string' ? names.get(of) : undefined
    if (!name || (name.sort !== 'reading' && name.sort !== 'figure')) {
      const named = typeof of === 'string' ? `there is no '${of}' to compare` : 'of is not a name'
      add(`${where}.of`, `${line}: ${named}. Use one reading or figure.`)
    }
    if (!isOne(ACROSS, what)) {
      const named = typeof what === 'string' ? `'${what}'` : 'of that sort'
      const known = Object.keys(ACROSS).join(', ')
      return add(`${where}.do`, `${line}: there is no operation ${named} across. Known are ${known}.`)
    }
    if (ACROSS[what]!.share) {
      if (share !== 'rule' && !fits(SHARE, share)) {
        add(`${where}.share`, `${line}: ${what} needs rule or a fraction such as 3/4 in share.`)
      }
    } else if (share !== '') add(`${where}.share`, `${line}: ${what} has no use for share; leave it empty.`)
    const compares = ['spread', 'spread_share', 'under_share', 'neighbours_under'].includes(what)
    if (compares && name && name.kind !== null && ZERO_ELSEWHERE.has(name.kind)) {
      add(`${where}.of`, `${line}: ${what} of a ${name.kind} has no meaning: its zero lies elsewhere.`)
    }
  })
}
