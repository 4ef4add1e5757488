// The places of a job's engine as the screens need them: names, what stands together, points, what is still wanted.
import { type EngineType, type Job, engineTypes } from '../../store/index.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import { type Place, placeName, places, related } from '../../trade/engine/locations.ts'
import { say } from './say.ts'

const known = new WeakMap<object, Place[]>()

/** Every place of an engine type, worked out once. */
export function placesOf(type: EngineType): Place[] {
  let list = known.get(type)
  if (!list) {
    list = places(type as never)
    known.set(type, list)
  }
  return list
}

/** 'bore 3, bank A, top, thrust'; the code itself when the engine type has not reached this phone. */
export function nameOfPlace(job: Job, place: string, point = ''): string {
  if (!place) return say('place.whole_job')
  const type = engineTypes.value.get(job.engine_type)
  const name = type ? placeName(type as never, place) : place.replace(/[/_]/g, ' ')
  return point ? `${name}, ${point}` : name
}

/** The name with its bank, where an engine has two: 'bore 3, bank A'. */
export function fullName(job: Job, code: string, point = ''): string {
  const type = engineTypes.value.get(job.engine_type)
  const place = type && placesOf(type).find((p) => p.code === code)
  const name = nameOfPlace(job, code)
  const banks = (type?.banks as unknown[] | undefined)?.length ?? 1
  const inBank = place && place.cylinder !== null && banks > 1 ? say('place.in_bank', { place: name, bank: String(place.bank) }) : name
  return point ? `${inBank}, ${point}` : inBank
}

/** What lies at the same cylinder, main, crankpin or bank as a place, itself included: the parts that are in hand together. */
export function togetherWith(type: EngineType, code: string): Place[] {
  const all = placesOf(type)
  const here = all.find((p) => p.code === code)
  if (!here) return []
  const same = (p: Place) => {
    if (PARTS[p.part]?.per === 'fastener') return PARTS[here.part]?.per === 'fastener' && p.code.slice(0, p.code.lastIndexOf('/')) === here.code.slice(0, here.code.lastIndexOf('/'))
    if (PARTS[here.part]?.per === 'fastener') return false
    if (here.cylinder !== null) return p.cylinder === here.cylinder
    if (here.main !== null) return p.main === here.main
    if (here.crankpin !== null) return p.crankpin === here.crankpin
    if (here.bank) return p.bank === here.bank && p.cylinder === null
    return p.code === here.code
  }
  return all.filter(same)
}

export function pointsOf(type: EngineType, code: string): readonly string[] {
  const place = placesOf(type).find((p) => p.code === code)
  return place ? (PARTS[place.part]?.points ?? []) : []
}

export const relatedTo = (type: EngineType, code: string): string[] => related(type as never, code)

/** Name of a place where its cylinder or bank is clear already: 'piston', 'inlet valve 1'. */
export function shortName(place: Place): string {
  const side = place.indices.find((i) => i === 'inlet' || i === 'exhaust')
  const number = side ? place.indices[place.indices.indexOf(side) + 1] : ''
  const fastener = PARTS[place.part]?.per === 'fastener' ? place.indices.at(-1) : ''
  const part = PARTS[place.part]?.name ?? place.part
  const named = side ? say('place.on_side', { side: side === 'inlet' ? say('place.inlet') : say('place.exhaust'), part }) : part
  return [named, number, fastener].filter(Boolean).join(' ')
}

// What an item of the checklist asks for at which parts, so that the drawing can ring them. Items about the whole ring nothing.
const ASKS: Record<string, { parts: string[]; kinds: string[] }> = {
  'tests/compression': { parts: ['bore'], kinds: ['measured', 'note_made'] },
  'strip/cap_marks': { parts: ['rod', 'main_cap'], kinds: ['photo_taken'] },
  'strip/shells': { parts: ['rod_bearing', 'main_bearing'], kinds: ['photo_taken'] },
  'strip/pistons': { parts: ['piston'], kinds: ['photo_taken'] },
  'strip/gasket_faces': { parts: ['deck', 'head'], kinds: ['photo_taken'] },
  'measure/bores': { parts: ['bore'], kinds: ['measured'] },
  'measure/journals': { parts: ['main', 'crankpin'], kinds: ['measured'] },
  'measure/faces': { parts: ['deck', 'head'], kinds: ['measured'] },
  'machining/after': { parts: [], kinds: [] },
  'build/ring_gaps': { parts: ['ring'], kinds: ['measured'] },
  'build/pin_centring': { parts: ['gudgeon_pin'], kinds: ['photo_taken', 'measured'] },
  'build/which_way': { parts: ['rod', 'piston'], kinds: ['photo_taken'] },
}

export interface Wanted {
  /** Places where the stage's checklist still asks for something. */
  places: Set<string>
  /** Items that are not ticked, in the order of the list. */
  items: { item: string; words: string; here: boolean }[]
}

/** What the stage still asks for: `seen` holds 'kind place' for every record of the job. */
export function wantedAt(
  type: EngineType | null,
  stage: string | null,
  list: readonly { item: string; words: string }[],
  ticked: ReadonlySet<string>,
  seen: ReadonlySet<string>,
  around: ReadonlySet<string>,
): Wanted {
  const wanted: Wanted = { places: new Set(), items: [] }
  for (const { item, words } of list) {
    if (ticked.has(`${stage}/${item}`)) continue
    const asks = ASKS[`${stage}/${item}`]
    const open = asks && type ? placesOf(type).filter((p) => asks.parts.includes(p.part) && !seenAnywhere(p, asks, seen)) : []
    for (const p of open) wanted.places.add(p.code)
    wanted.items.push({ item, words, here: open.some((p) => around.has(p.code)) })
  }
  return wanted
}

// A piston's picture kept under its bore is a picture of the piston: asked for by cylinder, not by name.
function seenAnywhere(place: Place, asks: { parts: string[]; kinds: string[] }, seen: ReadonlySet<string>): boolean {
  const index = place.indices[0] ?? ''
  const byCylinder = (kind: string) => place.cylinder !== null && asks.parts.some((part) => seen.has(`${kind} ${part}/${index}`))
  return asks.kinds.some((kind) => seen.has(`${kind} ${place.code}`) || byCylinder(kind))
}
