// Engine types: the check that gathers all faults and the file one travels in. The twin of trade/engine_types.py.

import type { Fault } from '../ground/errors.ts'
import { Exchange } from '../ground/exchange.ts'
import { FASTENER_PARTS, OPTIONAL_PARTS, PARTS, type EngineType, type Layout } from './parts.ts'
import * as shapes from '../ground/shapes.ts'
import type { Check } from '../ground/shapes.ts'

export { FASTENER_PARTS, OPTIONAL_PARTS, PARTS } from './parts.ts'
export type { EngineType } from './parts.ts'


type Loose = Record<string, any>

const FIELDS: [string, Check][] = [
  ['id', shapes.uuid],
  ['name', shapes.text(80, 1)],
  ['invented', shapes.yesNo],
  ['layout', shapes.choice({ inline: '', v: '', flat: '', single: '' })],
  ['bank_angle', shapes.whole(0, 180)],
  ['cylinders', shapes.whole(1, 32)],
  ['mains', shapes.whole(1, 33)],
  ['rotation', shapes.choice({ clockwise: '', anticlockwise: '' })],
  ['front', shapes.choice({ away_from_flywheel: '', flywheel_end: '' })],
  ['notes', shapes.text(4000)],
]
const LISTS = ['banks', 'crankpins', 'firing_order', 'camshafts', 'joints', 'pieces']
const KEYS = [...FIELDS.map(([name]) => name), ...LISTS, 'valves']

const BANK = /^[A-Z]$/
const LABEL = /^[A-Za-z0-9_]{1,12}$/
const CAMSHAFT = /^[A-Za-z0-9_]{1,20}(?:\/[A-Za-z0-9_]{1,20})?$/
const JOINT = /^[a-z][a-z0-9_]*(?:\/[A-Za-z0-9_]{1,12}){0,2}$/
const short = shapes.text(80)

const fits = (pattern: RegExp, value: unknown) => typeof value === 'string' && pattern.test(value)

/** All faults of an engine type, none when it can be used. Never throws, whatever it is given. */
export function check(engineType: unknown): Fault[] {
  if (!shapes.isObject(engineType)) {
    return [{ where: 'engine_type', message: 'An engine type is an object with fields; this is something else.' }]
  }
  const faults: Fault[] = []
  const add = (where: string, message: string) => faults.push({ where, message })
  const given = engineType
  for (const name of Object.keys(given).filter((one) => !KEYS.includes(one)).sort()) {
    add(name, `${name} is a field that nobody knows.`)
  }
  for (const name of KEYS) if (!Object.hasOwn(given, name)) add(name, `${name} is missing.`)
  for (const [name, against] of FIELDS) {
    const reason = Object.hasOwn(given, name) && against(given[name])
    if (reason) add(name, `${name} ${reason}.`)
  }
  for (const name of LISTS) {
    if (Object.hasOwn(given, name) && !Array.isArray(given[name])) add(name, `${name} is not a list.`)
  }
  if (faults.length) return faults
  for (const part of [layout, banks, crankpins, firingOrder, valves, camshafts, joints, pieces]) {
    part(given as Loose, add)
  }
  return faults
}

type Add = (where: string, message: string) => void

function layout(engine: Loose, add: Add) {
  const { layout: sort, bank_angle: angle } = engine
  const count = engine['banks'].length
  const wanted = sort === 'v' || sort === 'flat' ? 2 : 1
  if (count !== wanted) add('banks', `${LAYOUT_WORDS[sort]} has ${wanted === 1 ? '1 bank' : '2 banks'}, not ${count}.`)
  if (sort === 'v' && !(angle > 0 && angle < 180)) {
    add('bank_angle', `The banks of a V stand between 1 and 179 degrees apart, not ${angle}.`)
  }
  if (sort === 'flat' && angle !== 180) {
    add('bank_angle', `The banks of a flat engine stand 180 degrees apart, not ${angle}.`)
  }
  if ((sort === 'inline' || sort === 'single') && angle !== 0) {
    add('bank_angle', `One bank has no angle: bank_angle is 0, not ${angle}.`)
  }
  if (sort === 'single' && engine['cylinders'] !== 1) {
    add('cylinders', `A single has 1 cylinder, not ${engine['cylinders']}.`)
  }
}

type Group = [where: string, name: string, numbers: unknown]

const LAYOUT_WORDS: Record<string, string> = {
  inline: 'An in-line engine', v: 'A V engine', flat: 'A flat engine', single: 'A single',
}

function before(earlier: string, now: string): string {
  return earlier === now ? ' twice' : `, as ${earlier[0]!.toLowerCase()}${earlier.slice(1)} does`
}

function eachCylinderOnce(count: number, groups: Group[], missed: string, add: Add) {
  const seen = new Map<number, string>()
  for (const [where, name, numbers] of groups) {
    if (!Array.isArray(numbers) || numbers.length === 0) {
      add(where, `${name} names no cylinder.`)
      continue
    }
    for (const number of numbers) {
      if (!Number.isInteger(number)) add(where, `${name} names ${show(number)}, which is no cylinder number.`)
      else if (number < 1 || number > count) add(where, `${name} names cylinder ${number}; the engine has ${count}.`)
      else if (seen.has(number)) {
        add(where, `${name} names cylinder ${number}${before(seen.get(number)!, name)}.`)
      } else seen.set(number, name)
    }
  }
  const missing = Array.from({ length: count }, (_, i) => i + 1).filter((number) => !seen.has(number))
  if (missing.length) add(groups[0]?.[0].split('.')[0] ?? 'banks', `${missed} ${missing.join(', ')}.`)
}

function banks(engine: Loose, add: Add) {
  const groups: Group[] = []
  const codes = new Set<string>()
  let faulty = false
  const note: Add = (where, message) => {
    faulty = true
    add(where, message)
  }
  engine['banks'].forEach((bank: unknown, index: number) => {
    const where = `banks.${index}`
    if (!shapes.hasExactly(bank, ['code', 'name', 'cylinders', 'stagger_mm'])) {
      return note(where, 'A bank has exactly code, name, cylinders and stagger_mm.')
    }
    const code = bank['code'] as string
    if (!fits(BANK, code)) note(`${where}.code`, 'The code of a bank is one capital letter.')
    else if (codes.has(code)) note(`${where}.code`, `Two banks are called ${code}.`)
    else codes.add(code)
    const badName = short(bank['name'])
    if (badName) note(`${where}.name`, `The name of the bank ${badName}.`)
    const badStagger = shapes.whole(-500, 500)(bank['stagger_mm'])
    if (badStagger) note(`${where}.stagger_mm`, `The stagger ${badStagger}.`)
    groups.push([`${where}.cylinders`, `Bank ${code}`, bank['cylinders']])
  })
  if (!faulty || groups.length) eachCylinderOnce(engine['cylinders'], groups, 'No bank holds cylinder', add)
}

function crankpins(engine: Loose, add: Add) {
  const groups: Group[] = engine['crankpins'].map((pin: unknown, i: number) => [`crankpins.${i}`, `Crankpin ${i + 1}`, pin])
  eachCylinderOnce(engine['cylinders'], groups.length ? groups : [['crankpins', 'The crank', []]], 'No crankpin carries cylinder', add)
}

function firingOrder(engine: Loose, add: Add) {
  const group: Group = ['firing_order', 'The firing order', engine['firing_order']]
  eachCylinderOnce(engine['cylinders'], [group], 'The firing order misses', add)
}

function valves(engine: Loose, add: Add) {
  const given = engine['valves']
  if (!shapes.hasExactly(given, ['inlet', 'exhaust'])) {
    return add('valves', 'The valves of a cylinder are given as inlet and exhaust.')
  }
  for (const side of ['inlet', 'exhaust']) {
    const reason = shapes.whole(0, 4)(given[side])
    if (reason) add(`valves.${side}`, `${side} ${reason}.`)
  }
}

function bankCodes(engine: Loose): unknown[] {
  return engine['banks'].filter(shapes.isObject).map((bank: Loose) => bank['code'])
}

function camshafts(engine: Loose, add: Add) {
  const codes = new Set<string>()
  const driven = new Map<string, string>()
  engine['camshafts'].forEach((shaft: unknown, index: number) => {
    const where = `camshafts.${index}`
    if (!shapes.hasExactly(shaft, ['code', 'bank', 'drives'])) {
      return add(where, 'A camshaft has exactly code, bank and drives.')
    }
    const { code, bank, drives } = shaft as Loose
    if (!fits(CAMSHAFT, code)) {
      return add(`${where}.code`, 'The code of a camshaft is short, such as block or A/inlet.')
    }
    if (codes.has(code)) add(`${where}.code`, `Two camshafts are called ${code}.`)
    codes.add(code)
    if (bank !== '' && !bankCodes(engine).includes(bank)) {
      add(`${where}.bank`, `Camshaft ${code} lies in bank ${bank}, which the engine has not.`)
    }
    if (!Array.isArray(drives) || !drives.length || drives.some((side) => side !== 'inlet' && side !== 'exhaust')) {
      return add(`${where}.drives`, `Camshaft ${code} drives inlet, exhaust or both.`)
    }
    for (const side of drives) {
      for (const one of bank === '' ? bankCodes(engine) : [bank]) {
        const other = driven.get(`${one}/${side}`)
        if (other === undefined) driven.set(`${one}/${side}`, code)
        else if (other !== code) add(where, `Camshafts ${other} and ${code} both drive the ${side} of bank ${one}.`)
      }
    }
  })
}

function joints(engine: Loose, add: Add) {
  const codes = new Set<string>()
  engine['joints'].forEach((joint: unknown, index: number) => {
    const where = `joints.${index}`
    if (!shapes.hasExactly(joint, ['code', 'name', 'fasteners'])) {
      return add(where, 'A joint has exactly code, name and fasteners.')
    }
    const code = joint['code'] as string
    if (!fits(JOINT, code) || !FASTENER_PARTS.includes(code.split('/')[0]!)) {
      return add(`${where}.code`, `The code of a joint starts with one of ${FASTENER_PARTS.join(', ')}.`)
    }
    if (codes.has(code)) add(`${where}.code`, `Two joints are called ${code}.`)
    codes.add(code)
    jointPlace(engine, where, code, add)
    const badName = short(joint['name'])
    if (badName) add(`${where}.name`, `The name of the joint ${badName}.`)
    fasteners(where, joint, add)
  })
}

function jointPlace(engine: Loose, where: string, code: string, add: Add) {
  const [part, index] = code.split('/') as [string, string | undefined]
  const at = PARTS[part]!.at
  if (!at) return
  const upTo = (count: number) => Array.from({ length: count }, (_, i) => String(i + 1))
  const known =
    at === 'bank' ? bankCodes(engine).map(String) : upTo(at === 'main' ? engine['mains'] : engine['cylinders'])
  if (index === undefined || !known.includes(index)) {
    add(`${where}.code`, `${code} names no ${at} of this engine; write ${part}/${known[0] ?? 1}.`)
  }
}

function fasteners(where: string, joint: Loose, add: Add) {
  const given = joint['fasteners']
  if (!Array.isArray(given) || given.length > 200) {
    return add(`${where}.fasteners`, 'The fasteners of a joint are a list of at most 200.')
  }
  const labels = new Set<string>()
  const spots = new Map<string, string>()
  given.forEach((one: unknown, index: number) => {
    const here = `${where}.fasteners.${index}`
    if (!shapes.hasExactly(one, ['label', 'x_mm', 'y_mm'])) {
      return add(here, 'A fastener has exactly label, x_mm and y_mm.')
    }
    const label = one['label'] as string
    if (!fits(LABEL, label)) {
      return add(`${here}.label`, 'The label of a fastener is short: letters and digits.')
    }
    if (labels.has(label)) add(`${here}.label`, `Two fasteners of ${joint['code']} are called ${label}.`)
    labels.add(label)
    const bad = ['x_mm', 'y_mm'].find((axis) => shapes.whole(-5000, 5000)(one[axis]))
    if (bad) return add(`${here}.${bad}`, `Fastener ${label}: ${bad} is not a whole number of millimetres.`)
    const spot = `${one['x_mm']},${one['y_mm']}`
    const other = spots.get(spot)
    if (other === undefined) spots.set(spot, label)
    else if (other !== label) add(here, `Fasteners ${other} and ${label} of ${joint['code']} stand at one spot.`)
  })
}

function pieces(engine: Loose, add: Add) {
  const given: unknown[] = engine['pieces']
  given.forEach((piece, index) => {
    const where = `pieces.${index}`
    if (typeof piece !== 'string' || !OPTIONAL_PARTS.includes(piece)) {
      add(where, `${show(piece)} is no piece that can be listed.`)
    } else if (given.indexOf(piece) < index) add(where, `${piece} is listed twice.`)
  })
}

const show = (value: unknown) => (typeof value === 'string' ? `'${value}'` : String(value))

/** A new engine type to be filled in: numbered front to rear, one crankpin per cylinder (two share one in a V). */
export function draft(id: string, sort: Layout, cylinders: number): EngineType {
  const all = Array.from({ length: cylinders }, (_, i) => i + 1)
  const two = sort === 'v' || sort === 'flat'
  const bank = (code: string, numbers: number[]) => ({ code, name: '', cylinders: numbers, stagger_mm: 0 })
  const pairs = all.filter((n) => n % 2 === 1).map((n) => all.slice(n - 1, n + 1))
  const pins = sort === 'v' ? pairs : all.map((n) => [n])
  return {
    id, name: '', invented: false, layout: sort, bank_angle: sort === 'v' ? 90 : sort === 'flat' ? 180 : 0, cylinders,
    banks: two ? [bank('A', all.filter((n) => n % 2)), bank('B', all.filter((n) => n % 2 === 0))] : [bank('A', all)],
    crankpins: pins, mains: pins.length + 1, firing_order: all, rotation: 'clockwise', front: 'away_from_flywheel',
    valves: { inlet: 1, exhaust: 1 }, camshafts: [{ code: 'block', bank: '', drives: ['inlet', 'exhaust'] }],
    joints: [], pieces: [], notes: '',
  }
}

// An engine type travels in such a file; the faults of what is in one are `check`'s to find.
const FILE = new Exchange<EngineType>('witnessmark engine type 1', 'engine_type', 'an engine type')
export const writeFile = FILE.write
export const readFile = FILE.read
