// How the places of an engine are said, as rules of a grammar: only those it has, in the orders people say them.
// The twin of trade/spoken/place_rules.py.

import { NOTHING, type Rules, type Ways, maybe } from './jsgf.ts'
import { FASTENER_PARTS, OPTIONAL_PARTS, PARTS, SIDES, type EngineType } from '../engine/parts.ts'
import { distinct, tokenOf } from './pronunciation.ts'
import { counted } from './number_rules.ts'
import type { OwnWord } from './types.ts'
import { OPPOSITES, TABLE, plain, pointPhrases, spoken } from './words.ts'

/** What the rules need of an engine type. */
type Engine = Pick<EngineType, 'cylinders' | 'crankpins' | 'mains' | 'valves' | 'pieces'> & {
  banks: { code: string; name: string }[]
  camshafts: { code: string; bank: string }[]
  joints: { code: string; fasteners: { label: string }[] }[]
}
/** The grid of a procedure, and the part it is for. */
export interface Grid {
  part: string
  grid: { values: { words: string }[] }[]
}

const POINTS = pointPhrases()
/** Of 100: a part that is counted, without its number. What was not said is asked for. */
const BARE = 2

const numbers = (upto: number) => Array.from({ length: upto }, (_, at) => at + 1)

// Where the engine is not known, anything common can be said.
const ANY_ENGINE: Engine = {
  cylinders: 12,
  banks: [{ code: 'A', name: 'left' }, { code: 'B', name: 'right' }],
  crankpins: numbers(12).map((number) => [number]),
  mains: 9,
  valves: { inlet: 2, exhaust: 2 },
  camshafts: ['A', 'B'].flatMap((bank) => SIDES.map((side) => ({ code: `${bank}/${side}`, bank }))),
  joints: FASTENER_PARTS.map((code) => ({ code, fasteners: numbers(20).map((number) => ({ label: String(number) })) })),
  pieces: OPTIONAL_PARTS,
}

/** The codes of the parts that the engine has, fasteners of its joints too, in the order of the parts list. */
export function partsOf(engineType: EngineType | null): string[] {
  const engine: Engine = engineType ?? ANY_ENGINE
  const joined = new Set(engine.joints.map((joint) => joint.code.split('/')[0]))
  return Object.values(PARTS)
    .filter(({ code, optional }) =>
      FASTENER_PARTS.includes(code) ? joined.has(code) : !optional || engine.pieces.includes(code),
    )
    .map(({ code }) => code)
}

/** The rule of all places of one part, such as <place_bore>. */
export function place(rules: Rules, engineType: EngineType | null, part: string, own: OwnWord[]): string {
  const name = `place_${part}`
  if (rules.has(name)) return `<${name}>`
  const engine: Engine = engineType ?? ANY_ENGINE
  const called = calledRule(rules, part, own)
  const { per } = PARTS[part]!
  if (per === 'cylinder' || per === 'crankpin' || per === 'main') return rules.add(name, numbered(called, count(rules, engine, per)))
  if (per === 'bank' && engine.banks.length > 1) {
    const bank = bankRule(rules, engine)
    return rules.add(name, [[45, `${bank} ${called}`], [45, `${called} ${bank}`], [10, called]])
  }
  if (per === 'valve' || per === 'lobe') return rules.add(name, ofValve(rules, engine, called))
  if (per === 'manifold') return rules.add(name, [[45, `${sideRule(rules)} ${called}`], [BARE, called]])
  if (per === 'camshaft' && engine.camshafts.length > 1) return rules.add(name, ofCamshaft(rules, engine, called))
  if (per === 'fastener') return rules.add(name, ofFastener(rules, engine, part, called))
  return rules.add(name, [[1, called]])
}

/** "Bolt seven": which joint it is in, the screen says. */
export function fastener(rules: Rules, engineType: EngineType | null, part: string): string {
  const called = rules.add('fastener', TABLE.fasteners.map((word) => [1, word]))
  const label = labels(rules, engineType ?? ANY_ENGINE, part)
  return rules.add('place_fastener', [[1, `${called} ${numberSign()} ${label}`]])
}

/** What the part is called: its name most often, then what else the parts list says, then the rest. */
function calledRule(rules: Rules, part: string, own: OwnWord[]): string {
  const ways = new Map<string, number>()
  const add = (phrase: string, weight: number) => ways.has(phrase) || ways.set(phrase, weight)
  const { name, also } = PARTS[part]!
  add(plain(name), 6)
  for (const phrase of also) add(plain(phrase), 3)
  const more: Record<string, string[]> = TABLE.parts
  for (const phrase of Object.hasOwn(more, part) ? more[part]! : []) add(plain(phrase), 1)
  for (const [phrase, parts] of Object.entries(TABLE.unsure)) if (parts.includes(part)) ways.set(phrase, 1)
  for (const word of own) if (word.means === `part:${part}`) add(tokenOf(word.word), 3)
  return rules.add(`called_${part}`, distinct([...ways.keys()]).map((phrase) => [ways.get(phrase)!, phrase]))
}

const numberSign = () => maybe('number', 1, 10)

function numbered(called: string, number: string): Ways {
  return [[92, `${called} ${maybe(`${numberSign()} ${number}`, 90, 92)}`], [4, `number ${number} ${called}`]]
}

/** The rule of the numbers from one to as many as there are. */
function count(rules: Rules, engine: Engine, per: string): string {
  const many = per === 'crankpin' ? engine.crankpins.length : per === 'main' ? engine.mains : engine.cylinders
  return rules.add(`count_${per}`, numbers(many).map((number) => [1, counted(number)]))
}

function bankRule(rules: Rules, engine: Engine): string {
  const names: Record<string, string[]> = TABLE.banks.names
  const letters: Record<string, string> = Object.fromEntries(Object.entries(TABLE.banks.letters).map(([letter, code]) => [code, letter]))
  const ways: Ways = engine.banks.flatMap(({ code, name }) => {
    const bankWays: Ways = []
    if (Object.hasOwn(names, name)) bankWays.push([6, `${names[name]![0]} ${maybe('hand', 1, 10)} ${maybe('bank', 1, 2)}`])
    if (Object.hasOwn(letters, code)) bankWays.push([1, `bank ${letters[code]}`])
    return bankWays
  })
  return rules.add('bank', ways)
}

function sideRule(rules: Rules): string {
  const ways: Ways = SIDES.flatMap((side) => TABLE.sides[side].slice(0, 2).map((phrase, at): [number, string] => [3 - at, phrase]))
  return rules.add('side', ways)
}

function ofValve(rules: Rules, engine: Engine, called: string): Ways {
  const cylinder = count(rules, engine, 'cylinder')
  const side = sideRule(rules)
  const most = Math.max(engine.valves.inlet, engine.valves.exhaust)
  let which = ''
  if (most > 1) which = ` ${maybe(rules.add('which', numbers(most).map((number) => [1, counted(number)])), 4, 5)}`
  const behind = `${numberSign()} ${cylinder} ${maybe(`${side}${which}`, 45, 47)}`
  return [
    [49, `${called} ${maybe(behind, 47, 49)}`],
    [45, `${side} ${called} ${numberSign()} ${cylinder}${which}`],
  ]
}

function ofCamshaft(rules: Rules, engine: Engine, called: string): Ways {
  const sided = engine.camshafts.some(({ code }) => SIDES.some((side) => code.split('/').includes(side)))
  const banked = new Set(engine.camshafts.map(({ bank }) => bank)).size > 1 && engine.banks.length > 1
  const before = sided ? `${sideRule(rules)} ` : ''
  if (!banked) return [[45, `${before}${called}`], [BARE, called]]
  const bank = bankRule(rules, engine)
  return [[45, `${before}${called} ${bank}`], [45, `${bank} ${before}${called}`], [BARE, called]]
}

/** The numbers of the fasteners of all joints of a part; labels that are no numbers are not spoken. */
function labels(rules: Rules, engine: Engine, part: string): string {
  const joints = engine.joints
    .filter(({ code }) => code.split('/')[0] === part)
    .flatMap(({ fasteners }) => fasteners.map(({ label }) => (/^[0-9]+$/.test(label) ? Number(label) : 0)))
    .filter((number) => number > 0 && number < 100)
  const ways = [...new Set(joints)].sort((a, b) => a - b).map((number): [number, string] => [1, counted(number)])
  return rules.add(`label_${part}`, ways.length ? ways : [[1, NOTHING]])
}

function ofFastener(rules: Rules, engine: Engine, part: string, called: string): Ways {
  const label = labels(rules, engine, part)
  const { at } = PARTS[part]!
  const plainly = `${numberSign()} ${label}`
  if (at === 'bank' && engine.banks.length > 1) {
    const bank = bankRule(rules, engine)
    return [
      [47, `${called} ${maybe(`${plainly} ${maybe(bank, 45, 55)}`, 55, 57)}`],
      [45, `${bank} ${called} ${plainly}`],
    ]
  }
  const number = at === 'main' || at === 'cylinder' ? `${numberSign()} ${count(rules, engine, at)} ${label}` : plainly
  return [[1, `${called} ${maybe(number, 45, 47)}`]]
}

/** The rule of the points of a part: along the axes of the procedure, or else as the parts list has them; '' for none. */
export function points(rules: Rules, part: string, procedure: Grid | null): string {
  const name = `point_${part}`
  if (rules.has(name)) return `<${name}>`
  const grid = (procedure?.grid ?? []).map((axis) => axis.values.map(({ words }) => words))
  const [axes, others] = grid.length ? [grid, []] : axesOf(part)
  if (!axes.length && !others.length) return ''
  const along = axes.map((axis, at) => rules.add(`${name}_${'abcd'[at]}`, pieces(axis)))
  const ways: Ways = []
  const [first, second] = along
  if (first && second) ways.push([8, `${first} ${maybe(second, 4, 5)}`], [2, `${second} ${maybe(first, 4, 5)}`])
  else if (first) ways.push([8, first])
  if (others.length) ways.push([2, rules.add(`${name}_other`, pieces(others))])
  return rules.add(name, ways)
}

/** [pieces that exclude each other, axis by axis; pieces that stand alone] of the points in the parts list. */
function axesOf(part: string): [string[][], string[]] {
  const all = [...new Set(PARTS[part]!.points.flatMap((point) => (Object.hasOwn(TABLE.points, point) ? [point] : point.split(', '))))]
  const axes = OPPOSITES.map((group) => group.filter((piece) => all.includes(piece)))
    .filter((axis) => axis.length > 1)
    .slice(0, 2)
  return [axes, all.filter((piece) => !axes.flat().includes(piece))]
}

function pieces(list: string[]): Ways {
  const counts = new Map<string, number>()
  for (const piece of list) {
    distinct(Object.hasOwn(POINTS, piece) ? POINTS[piece]! : spoken(piece)).forEach((phrase, at) => {
      if (!counts.has(phrase)) counts.set(phrase, at === 0 ? 4 : 1)
    })
  }
  return [...counts].map(([phrase, weight]) => [weight, phrase])
}
