// Places on an engine: all of them from its engine type, their names and what is related. The twin of trade/engine/locations.py.
// A place code is a part and its indices between strokes: bore/3, valve/5/inlet/1, head_bolt/A/7.

import { say } from '../ground/say.ts'
import { PART_ORDER, PARTS, SIDES, type EngineType, type Part } from './parts.ts'

export { ISO_NOTE } from './parts.ts'

export interface Place {
  code: string
  part: string
  name: string
  indices: string[]
  bank: string
  cylinder: number | null
  crankpin: number | null
  main: number | null
  camshaft: string
  /** After ISO 1204, unverified: show ISO_NOTE with it. */
  iso: string
  points: string[]
}

type At = Partial<Pick<Place, 'bank' | 'cylinder' | 'crankpin' | 'main' | 'camshaft'>>

/** Every place of the engine, in the order of the parts list and then along the engine. */
export function places(engine: EngineType): Place[] {
  return PART_ORDER.map((code) => PARTS[code]!)
    .filter((part) => !part.optional || engine.pieces.includes(part.code))
    .flatMap((part) => ofPart(engine, part))
}

function bankOf(engine: EngineType, cylinder: number): string {
  return engine.banks.find((bank) => bank.cylinders.includes(cylinder))?.code ?? ''
}

function crankpinOf(engine: EngineType, cylinder: number): number | null {
  const at = engine.crankpins.findIndex((pin) => pin.includes(cylinder))
  return at < 0 ? null : at + 1
}

/** The main journals before and behind a crankpin; pins are shared out evenly between the mains. */
function mainsBeside(engine: EngineType, crankpin: number): number[] {
  const pins = engine.crankpins.length
  const gaps = engine.mains - 1
  for (let gap = 1; gap <= gaps; gap += 1) {
    if (Math.floor((2 * pins * gap + gaps) / (2 * gaps)) >= crankpin) return [gap, gap + 1]
  }
  return [engine.mains]
}

function upTo(count: number): number[] {
  return Array.from({ length: count }, (_, i) => i + 1)
}

function ofPart(engine: EngineType, part: Part): Place[] {
  const make = (indices: string[], at: At = {}) => makePlace(engine, part, indices, at)
  switch (part.per) {
    case 'whole':
    case 'once':
      return [make([])]
    case 'bank':
      return engine.banks.map((bank) => make([bank.code], { bank: bank.code }))
    case 'cylinder':
    case 'valve':
    case 'lobe':
      return upTo(engine.cylinders).flatMap((cylinder) => {
        const bank = bankOf(engine, cylinder)
        return alongCylinder(engine, part.per).map((rest) => {
          const camshaft = rest[0] ? camshaftFor(engine, bank, rest[0]) : ''
          return make([String(cylinder), ...rest], { cylinder, bank, camshaft })
        })
      })
    case 'crankpin':
      return engine.crankpins.map((_, i) => make([String(i + 1)], { crankpin: i + 1 }))
    case 'main':
      return upTo(engine.mains).map((main) => make([String(main)], { main }))
    case 'camshaft':
      return engine.camshafts.map((camshaft) => make(camshaft.code.split('/'), { bank: camshaft.bank, camshaft: camshaft.code }))
    case 'manifold':
      return SIDES.map((side) => make([side]))
    default:
      return fasteners(engine, part)
  }
}

function alongCylinder(engine: EngineType, per: string): string[][] {
  if (per === 'cylinder') return [[]]
  return SIDES.flatMap((side) => {
    const count = engine.valves[side]
    return per === 'lobe' && count === 1 ? [[side]] : upTo(count).map((number) => [side, String(number)])
  })
}

function camshaftFor(engine: EngineType, bank: string, side: string): string {
  const shaft = engine.camshafts.find(
    (camshaft) => (camshaft.drives as string[]).includes(side) && (camshaft.bank === '' || camshaft.bank === bank),
  )
  return shaft?.code ?? ''
}

function fasteners(engine: EngineType, part: Part): Place[] {
  return engine.joints.flatMap((joint) => {
    const [code, ...indices] = joint.code.split('/')
    if (code !== part.code) return []
    const at: At = {}
    const number = Number(indices[0])
    if (part.at === 'bank') at.bank = indices[0]!
    else if (part.at === 'main') at.main = number
    else if (part.at === 'cylinder') Object.assign(at, { cylinder: number, bank: bankOf(engine, number) })
    return joint.fasteners.map((fastener) => makePlace(engine, part, [...indices, fastener.label], at))
  })
}

function makePlace(engine: EngineType, part: Part, indices: string[], at: At): Place {
  const place: Place = {
    code: [part.code, ...indices].join('/'),
    part: part.code,
    name: nameOf(engine, part, indices),
    indices,
    bank: '',
    cylinder: null,
    crankpin: null,
    main: null,
    camshaft: '',
    iso: '',
    points: part.points,
    ...at,
  }
  place.iso = isoOf(engine, place)
  return place
}

function isoOf(engine: EngineType, place: Place): string {
  if (isFastener(place)) return ''
  if (place.cylinder !== null) {
    const bank = engine.banks.find((candidate) => candidate.code === place.bank)
    if (!bank) return ''
    const fromDrivingEnd = bank.cylinders.length - bank.cylinders.indexOf(place.cylinder)
    return `${engine.banks.length > 1 ? place.bank : ''}${fromDrivingEnd}`
  }
  return place.main === null ? '' : String(engine.mains + 1 - place.main)
}

/** The place as a technician says it ("main journal 4"), also for a code this engine has not; "" for "". */
export function placeName(engine: EngineType | null, code: string): string {
  const [partCode, ...indices] = code.split('/')
  const part = Object.hasOwn(PARTS, partCode!) ? PARTS[partCode!]! : null
  return part ? nameOf(engine, part, indices) : code.replaceAll('_', ' ').replaceAll('/', ' ')
}

function nameOf(engine: EngineType | null, part: Part, indices: string[]): string {
  if (indices.length === 0) return part.name
  const several = (engine ? engine.banks.length : 2) > 1
  const [first, side] = indices
  if (part.per === 'bank') return several ? say('engine.in_bank', { place: part.name, bank: first! }) : part.name
  if ((part.per === 'valve' || part.per === 'lobe') && indices.length === 3) {
    const alone = part.per === 'valve' && engine !== null && engine.valves[side as 'inlet'] === 1
    return indexed(part.name, alone ? indices.slice(0, 2) : indices)
  }
  if (part.per === 'camshaft') return camshaftName(engine, part.name, indices, several)
  if (part.per === 'manifold') return say('engine.on_side', { side: sideWords(first!), part: part.name })
  if (part.per === 'fastener' && part.at === 'bank' && indices.length > 1) {
    const fastener = indexed(part.name, indices.slice(1))
    return several ? say('engine.in_bank', { place: fastener, bank: first! }) : fastener
  }
  if (part.per === 'fastener') return indexed(part.name, [indices.join('/')])
  return indexed(part.name, indices)
}

const SIDE_WORDS: Record<string, string> = { inlet: say('engine.inlet'), exhaust: say('engine.exhaust') }

const sideWords = (code: string): string => (Object.hasOwn(SIDE_WORDS, code) ? SIDE_WORDS[code]! : code)

const indexed = (part: string, indices: string[]): string =>
  say('engine.indexed', { part, index: indices.map(sideWords).join(' ') })

function camshaftName(engine: EngineType | null, name: string, indices: string[], several: boolean): string {
  if (engine && engine.camshafts.length === 1) return name
  const isSide = (word: string) => (SIDES as string[]).includes(word)
  const side = indices.find(isSide)
  const rest = indices.filter((index) => !isSide(index))
  const bank = rest.find((index) => /^[A-Z]$/.test(index))
  const others = rest.filter((index) => index !== bank)
  let words = side ? say('engine.on_side', { side: sideWords(side), part: name }) : name
  if (others.length) words = say('engine.indexed', { part: words, index: others.join(' ') })
  return bank && several ? say('engine.in_bank', { place: words, bank }) : words
}

/** The codes of the places that touch this one: of cylinder 5 its piston, rod, pin, mains, head, deck and valves. */
export function related(engine: EngineType, code: string): string[] {
  const everything = places(engine)
  const here = everything.find((place) => place.code === code)
  if (!here) return []
  return everything.filter((other) => other !== here && touch(engine, here, other)).map((other) => other.code)
}

/**
 * The one place of `part` that goes with the place `code`: the crankpin of a big-end bearing, the bore of a piston, the
 * guide of a valve. "" when there is none, or more than one and so no telling which. `everything` are the places of the
 * engine, for whoever has them at hand.
 */
export function beside(engine: EngineType, code: string, part: string, everything = places(engine)): string {
  const here = everything.find((place) => place.code === code)
  let matches = everything.filter((place) => place.part === part)
  if (!here) return ''
  if (here.part === part) return code
  if (!aloneOfItsKind(part)) matches = matches.filter((other) => goesWith(engine, here, other))
  return matches.length === 1 ? matches[0]!.code : ''
}

function aloneOfItsKind(part: string): boolean {
  return ['whole', 'once'].includes(PARTS[part]?.per ?? '')
}

function goesWith(engine: EngineType, first: Place, second: Place): boolean {
  if (isFastener(first) || isFastener(second)) return false
  if (first.cylinder !== null && second.cylinder !== null) {
    // Of a valve and a lobe the side and the number agree as far as both have them.
    const both = Math.min(first.indices.length, second.indices.length)
    return first.indices.slice(0, both).every((index, i) => index === second.indices[i])
  }
  const [here, other] = first.cylinder === null && second.cylinder !== null ? [second, first] : [first, second]
  if (here.cylinder !== null) {
    if (other.crankpin !== null) {
      return PARTS[here.part]!.bottom_end === true && other.crankpin === crankpinOf(engine, here.cylinder)
    }
    if (other.camshaft) return other.camshaft === here.camshaft
    return other.bank !== '' && other.bank === here.bank
  }
  if (here.crankpin !== null || other.crankpin !== null) return here.crankpin === other.crankpin
  if (here.main !== null || other.main !== null) return here.main === other.main
  return aloneOfItsKind(here.part) || (here.bank !== '' && here.bank === other.bank)
}

function isFastener(place: Place): boolean {
  return PARTS[place.part]!.per === 'fastener'
}

function touch(engine: EngineType, first: Place, second: Place): boolean {
  if (isFastener(first) && isFastener(second)) {
    return first.code.slice(0, first.code.lastIndexOf('/')) === second.code.slice(0, second.code.lastIndexOf('/'))
  }
  if (isFastener(first) || isFastener(second)) {
    // A bolt belongs to what it clamps, not to every valve of its bank.
    const [bolt, other] = isFastener(first) ? [first, second] : [second, first]
    if (bolt.main !== null) return bolt.main === other.main
    if (bolt.cylinder !== null) return bolt.cylinder === other.cylinder
    return bolt.bank !== '' && bolt.bank === other.bank && other.cylinder === null
  }
  if (first.cylinder !== null) return touchesCylinder(engine, first, second)
  if (second.cylinder !== null) return touchesCylinder(engine, second, first)
  return touchBeside(engine, first, second)
}

function touchesCylinder(engine: EngineType, place: Place, other: Place): boolean {
  if (other.cylinder !== null) return place.cylinder === other.cylinder
  const pin = PARTS[place.part]!.bottom_end ? crankpinOf(engine, place.cylinder!) : null
  if (other.crankpin !== null) return other.crankpin === pin
  if (other.main !== null) return pin !== null && mainsBeside(engine, pin).includes(other.main)
  if (other.camshaft) {
    if (place.camshaft) return other.camshaft === place.camshaft
    return SIDES.some((side) => camshaftFor(engine, place.bank, side) === other.camshaft)
  }
  return other.bank !== '' && other.bank === place.bank
}

function touchBeside(engine: EngineType, place: Place, other: Place): boolean {
  if (place.crankpin !== null && other.crankpin !== null) return place.crankpin === other.crankpin
  if (place.main !== null && other.main !== null) return place.main === other.main
  const pin = place.crankpin ?? other.crankpin
  const main = place.main ?? other.main
  if (pin !== null && main !== null) return mainsBeside(engine, pin).includes(main)
  return place.bank !== '' && place.bank === other.bank
}
