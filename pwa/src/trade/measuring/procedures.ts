// Measuring procedures: the check that gathers all faults, what is asked, and the file one travels in.
// The twin of trade/procedures.py, which says what a procedure holds and what its lines mean.

import table from '../../../../server/witnessmark/trade/data/procedures.json'
import { PARTS } from '../engine/types.ts'
import type { Fault } from '../ground/errors.ts'
import { Exchange, inOrder } from '../ground/exchange.ts'
import { checkAcross, checkFigures, type Add, type Name } from './procedure_lines.ts'
import * as shapes from '../ground/shapes.ts'
import type { Check } from '../ground/shapes.ts'
import { QUANTITIES } from '../ground/units.ts'

export interface ProcedureAxis {
  axis: string
  words: string
  values: { code: string; words: string }[]
}

export interface ProcedureReading {
  code: string
  words: string
  quantity: string
  optional: boolean
  borrow: { procedure: string; figure: string; part: string } | null
}

export interface ProcedureSize {
  code: string
  words: string
  /** "" for a text, such as a material. */
  quantity: string
  many: boolean
}

export interface FigureLine {
  code: string
  words: string
  kind: string
  do: string
  of: string[]
  along: string
  by: string
  definition: string
  guide: { words: string; of: string; by: string } | null
}

export interface AcrossLine {
  code: string
  words: string
  do: string
  of: string
  share: string
  definition: string
}

export interface Procedure {
  code: string
  edition: number
  name: string
  part: string
  quantity: string
  about: string
  cautions: string[]
  grid: ProcedureAxis[]
  readings: ProcedureReading[]
  optional: string[]
  sizes: ProcedureSize[]
  figures: FigureLine[]
  across: AcrossLine[]
  walk: 'place' | 'reading'
  drawing: string
}

type Loose = Record<string, any>

export const MOST_GRID_READINGS = 144
export const BUILT_IN: Record<string, Procedure> = Object.fromEntries(
  (table.procedures as Procedure[]).map((one) => [one.code, one]),
)
export const WALKS = { place: 'all readings of a place', reading: 'one reading over all places' }
export const DRAWINGS = ['bore', 'journal', 'housing', 'face', 'lobe', 'pin', 'list']

const CODE = /^[a-z][a-z0-9_]{0,39}$/
const VALUE = /^[a-z0-9][a-z0-9_]{0,29}$/
const KIND_OF: Record<string, string> = Object.fromEntries(QUANTITIES.map((one) => [one.code, one.kind]))

const badCode: Check = (value) =>
  typeof value === 'string' && CODE.test(value) ? null : 'is no code of small letters, digits and _'
const badWords = shapes.text(80, 1)

function known(tableName: string, codes: object): Check {
  return (value) => (typeof value === 'string' && Object.hasOwn(codes, value) ? null : `is no code of ${tableName}`)
}

const FIELDS: [string, Check][] = [
  ['code', badCode],
  ['edition', shapes.whole(1, 1_000_000)],
  ['name', shapes.text(80, 1)],
  ['part', known('the parts', PARTS)],
  ['quantity', known('the quantities', KIND_OF)],
  ['about', shapes.text(2000)],
  ['cautions', shapes.texts(20, 300)],
  ['optional', shapes.texts(MOST_GRID_READINGS, 100)],
  ['walk', shapes.choice(WALKS)],
  ['drawing', shapes.choice(Object.fromEntries(DRAWINGS.map((one) => [one, ''])))],
]
const LISTS: [string, number][] = [['grid', 3], ['readings', 40], ['sizes', 20], ['figures', 60], ['across', 20]]
const KEYS = [...FIELDS, ...LISTS].map(([name]) => name)

/**
 * All faults of a procedure, none when it can be used. Never throws, whatever it is given. Its frame is judged first,
 * then grid, readings and sizes, then its lines: a line cannot be judged while the names that it uses are in doubt.
 */
export function check(procedure: unknown): Fault[] {
  if (!shapes.isObject(procedure)) {
    return [{ where: 'procedure', message: 'A procedure is an object with fields; this is something else.' }]
  }
  const faults: Fault[] = []
  const add: Add = (where, message) => void faults.push({ where, message })
  for (const name of Object.keys(procedure).filter((one) => !KEYS.includes(one)).sort()) {
    add(name, `${name} is a field that nobody knows.`)
  }
  for (const name of KEYS) if (!Object.hasOwn(procedure, name)) add(name, `${name} is missing.`)
  for (const [name, against] of FIELDS) {
    const reason = Object.hasOwn(procedure, name) && against(procedure[name])
    if (reason) add(name, `${name} ${reason}.`)
  }
  for (const [name, most] of LISTS) {
    if (!Object.hasOwn(procedure, name)) continue
    const given = procedure[name]
    if (!Array.isArray(given)) add(name, `${name} is not a list.`)
    else if (given.length > most) add(name, `${name} has ${given.length} lines; ${most} is the most.`)
  }
  if (faults.length) return faults
  const given = procedure as Loose
  const names = new Map<string, Name>()
  for (const part of [grid, readings, sizes]) part(given, names, add, faults)
  if (faults.length) return faults
  const sound = procedure as unknown as Procedure
  const axes = new Map(sound.grid.map((axis) => [axis.axis, axis.values.length]))
  checkFigures(sound.figures, names, axes, gridCodes(sound), add)
  checkAcross(sound.across, names, add)
  whose(sound, add)
  return faults
}

function grid(procedure: Loose, names: Map<string, Name>, add: Add, faults: Fault[]) {
  const axes = new Set<string>()
  const before = faults.length
  let asked = 1
  procedure['grid'].forEach((axis: unknown, index: number) => {
    const where = `grid.${index}`
    let line = `Axis ${index + 1}`
    if (!shapes.hasExactly(axis, ['axis', 'words', 'values'])) {
      return add(where, `${line} has exactly axis, words and values.`)
    }
    const reason = badCode(axis['axis'])
    if (reason) add(`${where}.axis`, `${line}: axis ${reason}.`)
    else {
      const code = axis['axis'] as string
      line = `${line} (${code})`
      if (axes.has(code)) add(`${where}.axis`, `${line}: two axes are called ${code}.`)
      axes.add(code)
    }
    const words = badWords(axis['words'])
    if (words) add(`${where}.words`, `${line}: words ${words}.`)
    axisValues(where, line, axis['values'], add)
    if (Array.isArray(axis['values'])) asked *= axis['values'].length
  })
  if (faults.length === before && asked > MOST_GRID_READINGS) {
    add('grid', `The grid asks for ${asked} readings; ${MOST_GRID_READINGS} is the most.`)
  }
  if (faults.length > before) return
  const codes = gridCodes(procedure as unknown as Procedure)
  for (const code of codes) names.set(code, { kind: KIND_OF[procedure['quantity']]!, sort: 'reading' })
  for (const code of procedure['optional']) {
    if (!codes.includes(code)) add('optional', `'${code}' may be missing, but the grid does not ask for it.`)
  }
}

function axisValues(where: string, line: string, values: unknown, add: Add) {
  if (!Array.isArray(values) || values.length < 1 || values.length > 12) {
    return add(`${where}.values`, `${line}: values is a list of 1 to 12.`)
  }
  const seen = new Set<string>()
  values.forEach((value: unknown, index) => {
    const here = `${where}.values.${index}`
    if (!shapes.hasExactly(value, ['code', 'words'])) {
      return add(here, `${line}: value ${index + 1} has exactly code and words.`)
    }
    const code = value['code']
    if (typeof code !== 'string' || !VALUE.test(code)) {
      add(`${here}.code`, `${line}: the code of value ${index + 1} is small letters and digits.`)
    } else if (seen.has(code)) add(`${here}.code`, `${line}: two values are called ${code}.`)
    else seen.add(code)
    const words = badWords(value['words'])
    if (words) add(`${here}.words`, `${line}: the wording of value ${index + 1} ${words}.`)
  })
}

function readings(procedure: Loose, names: Map<string, Name>, add: Add) {
  if (!procedure['grid'].length && !procedure['readings'].length) {
    add('readings', 'The procedure asks for no reading: give it a grid or a reading.')
  }
  procedure['readings'].forEach((reading: unknown, index: number) => {
    const where = `readings.${index}`
    if (!shapes.hasExactly(reading, ['code', 'words', 'quantity', 'optional', 'borrow'])) {
      return add(where, `Reading ${index + 1} has exactly code, words, quantity, optional and borrow.`)
    }
    const line = named(where, `Reading ${index + 1}`, reading, names, add)
    const { code, quantity, borrow } = reading as Loose
    if (typeof quantity !== 'string' || !Object.hasOwn(KIND_OF, quantity)) {
      add(`${where}.quantity`, `${line}: quantity is no code of the quantities.`)
    } else if (typeof code === 'string') names.set(code, { kind: KIND_OF[quantity]!, sort: 'reading' })
    const optional = shapes.yesNo(reading['optional'])
    if (optional) add(`${where}.optional`, `${line}: optional ${optional}.`)
    if (borrow === null) return
    if (!shapes.hasExactly(borrow, ['procedure', 'figure', 'part'])) {
      return add(`${where}.borrow`, `${line}: borrow has exactly procedure, figure and part.`)
    }
    for (const key of ['procedure', 'figure']) {
      const reason = badCode(borrow[key])
      if (reason) add(`${where}.borrow.${key}`, `${line}: the ${key} to borrow from ${reason}.`)
    }
    if (typeof borrow['part'] !== 'string' || !Object.hasOwn(PARTS, borrow['part'])) {
      add(`${where}.borrow.part`, `${line}: the part to borrow from is no code of the parts.`)
    }
  })
}

function sizes(procedure: Loose, names: Map<string, Name>, add: Add) {
  procedure['sizes'].forEach((size: unknown, index: number) => {
    const where = `sizes.${index}`
    if (!shapes.hasExactly(size, ['code', 'words', 'quantity', 'many'])) {
      return add(where, `Size ${index + 1} has exactly code, words, quantity and many.`)
    }
    const line = named(where, `Size ${index + 1}`, size, names, add)
    const many = shapes.yesNo(size['many'])
    if (many) add(`${where}.many`, `${line}: many ${many}.`)
    const { code, quantity } = size as Loose
    if (typeof quantity !== 'string' || (quantity !== '' && !Object.hasOwn(KIND_OF, quantity))) {
      add(`${where}.quantity`, `${line}: quantity is no code of the quantities.`)
    } else if (typeof code === 'string') {
      const sort = quantity === '' ? 'text' : size['many'] === true ? 'set' : 'size'
      names.set(code, { kind: KIND_OF[quantity] ?? null, sort })
    }
  })
}

/** Judges code and words of a reading or size, and gives its name in messages. */
function named(where: string, line: string, one: Loose, names: Map<string, Name>, add: Add): string {
  const code = one['code']
  const reason = badCode(code)
  let label = line
  if (reason) add(`${where}.code`, `${line}: code ${reason}.`)
  else {
    label = `${line} (${code})`
    if (code === 'grid') add(`${where}.code`, `${label}: 'grid' stands for all readings of the grid.`)
    else if (names.has(code)) add(`${where}.code`, `${label}: the name '${code}' is used twice.`)
  }
  const words = badWords(one['words'])
  if (words) add(`${where}.words`, `${label}: words ${words}.`)
  return label
}

function whose(procedure: Procedure, add: Add) {
  const { code } = procedure
  const ours = Object.hasOwn(BUILT_IN, code) ? BUILT_IN[code] : undefined
  // A workshop's procedure under a known code would change, unseen, what everybody else means by that code.
  if (code.startsWith('own_') || (ours && text(ours) === text(procedure))) return
  const reason = ours
    ? 'comes with the program and cannot be changed; give yours a code that starts with own_'
    : "is no procedure that comes with the program; the code of a workshop's own starts with own_"
  add('code', `${code} ${reason}.`)
}

/** The readings of the grid, the first axis changing slowest: "top/thrust", "top/axial", …; none without a grid. */
export function gridCodes(procedure: Procedure): string[] {
  if (!procedure.grid.length) return []
  return procedure.grid
    .map((axis) => axis.values.map((value) => value.code))
    .reduce((heads, codes) => heads.flatMap((head) => codes.map((code) => `${head}/${code}`)))
}

/** All readings in the order in which they are asked for: the grid, then those beside it. */
export function readingCodes(procedure: Procedure): string[] {
  return [...gridCodes(procedure), ...procedure.readings.map((reading) => reading.code)]
}

/** A reading in words, as it stands in an entry's point: "top, thrust". An unknown code is given back as it is. */
export function pointWords(procedure: Procedure, reading: string): string {
  const beside = procedure.readings.find((one) => one.code === reading)
  if (beside) return beside.words
  if (!gridCodes(procedure).includes(reading)) return reading
  const codes = reading.split('/')
  return procedure.grid.map((axis, i) => axis.values.find((value) => value.code === codes[i])!.words).join(', ')
}

/** The readings without which a place is not done. */
export function required(procedure: Procedure): string[] {
  const beside = procedure.readings.filter((reading) => !reading.optional).map((reading) => reading.code)
  return [...gridCodes(procedure).filter((code) => !procedure.optional.includes(code)), ...beside]
}

/** The quantity of a reading: its own beside the grid, the procedure's in the grid. */
export function quantityOf(procedure: Procedure, reading: string): string {
  return procedure.readings.find((one) => one.code === reading)?.quantity ?? procedure.quantity
}

/**
 * Whether a reading is taken on the part whose material the engine type states: in a procedure with a grid all of them,
 * else the first alone, for a second one is mostly of the part that runs in it, of another metal.
 */
export function ofThePart(procedure: Procedure, reading: string): boolean {
  return procedure.grid.length > 0 || procedure.readings[0]!.code === reading
}

/** The procedures that measure a part, in the order given. */
export function ofPart(part: string, procedures: Procedure[]): Procedure[] {
  return procedures.filter((one) => one.part === part)
}

const text = (value: unknown) => JSON.stringify(inOrder(value), null, 2)

// A procedure travels in such a file; the faults of what is in one are `check`'s to find.
const FILE = new Exchange<Procedure>('witnessmark procedure 1', 'procedure', 'a procedure')
export const writeFile = FILE.write
export const readFile = FILE.read
