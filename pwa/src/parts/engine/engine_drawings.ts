// From an engine type's data to its views: the block, the valves of each head, and each joint with its fasteners.
import { type DrawnEngine, type Drawing, blockDrawing } from './engine_layout.ts'
import { type Fastener, jointDrawing, valveDrawing } from './engine_views.ts'
import { say } from '../words/say.ts'

/** What the drawing needs of an engine type. */
export interface DrawnType {
  layout: 'inline' | 'v' | 'flat' | 'single'
  banks: { code: string; name: string; cylinders: number[]; stagger_mm: number }[]
  crankpins: number[][]
  mains: number
  valves: { inlet: number; exhaust: number }
  joints: { code: string; name: string; fasteners: { label: string; x_mm: number; y_mm: number }[] }[]
  pieces: string[]
}

export interface ViewName {
  code: string
  name: string
}

const BLOCK = 'block'
// In these joints the fasteners' x runs across the engine; in all others it runs along it.
const ACROSS = ['main_bolt', 'rod_bolt', 'flywheel_bolt']
// One view for all joints of these parts: a cap with two bolts is no view of its own.
const TOGETHER = ['main_bolt', 'rod_bolt']
const nameTogether = (part: string) => (part === 'main_bolt' ? say('engine.main_caps') : say('engine.rod_caps'))

const partOf = (code: string) => code.split('/')[0] ?? ''
// The code of a bank, where an engine has two.
const bankOf = (type: DrawnType, bank: string) => (type.banks.length > 1 ? bank : '')

/** The views an engine type can be drawn in, the block first. */
export function viewsOf(type: DrawnType): ViewName[] {
  const joints: ViewName[] = []
  for (const { code, name } of type.joints) {
    const part = partOf(code)
    const view = TOGETHER.includes(part) ? part : code
    if (joints.some((j) => j.code === view)) continue
    const bank = bankOf(type, code.split('/')[1] ?? '')
    const headBolts = bank ? say('engine.head_bolts_of', { bank }) : say('engine.head_bolts')
    joints.push({ code: view, name: part === 'head_bolt' ? headBolts : TOGETHER.includes(part) ? nameTogether(part) : name.toLowerCase() })
  }
  const valves = type.banks.map(({ code }) => {
    const bank = bankOf(type, code)
    return { code: `valve/${code}`, name: bank ? say('engine.valves_of', { bank }) : say('engine.valves') }
  })
  return [{ code: BLOCK, name: say('engine.block') }, ...valves, ...joints]
}

function drawnEngine(type: DrawnType): DrawnEngine {
  // Seen from above with the front at the top, the left bank is on the left.
  const banks = [...type.banks]
  if (/right/i.test(banks[0]?.name ?? '') && banks.length > 1) banks.reverse()
  const shift = new Map(type.banks.flatMap((bank) => bank.cylinders.map((c) => [c, bank.stagger_mm] as const)))
  const crankpins = type.crankpins.map((pin) => [...pin].sort((a, b) => (shift.get(a) ?? 0) - (shift.get(b) ?? 0)))
  return { layout: type.layout, banks, crankpins, mains: type.mains }
}

/** A view of an engine type; `room` is the height on offer in units. `ends` adds the timing drive and the flywheel. */
export function drawingOf(type: DrawnType, view = BLOCK, room = 0, ends = false): Drawing {
  const [part = '', bank = ''] = view.split('/')
  if (part === 'valve') {
    const cylinders = type.banks.find((b) => b.code === bank)?.cylinders ?? []
    const has = (piece: string) => type.pieces.includes(piece)
    const all = cylinders.map((cylinder) => ({ cylinder, ...type.valves, plug: has('plug'), injector: has('injector') }))
    return valveDrawing(bankOf(type, bank) ? say('engine.head_of_below', { bank }) : say('engine.head_below'), all)
  }
  const joints = type.joints.filter((j) => j.code === view || (TOGETHER.includes(view) && partOf(j.code) === view))
  if (joints.length === 0) {
    const engine = drawnEngine(type)
    return blockDrawing(ends ? { ...engine, ends: { front: 'timing_drive', rear: 'flywheel' } } : engine, room)
  }
  if (TOGETHER.includes(part)) return capsDrawing(part, joints, room)
  const chambers = part === 'head_bolt' ? (type.banks.find((b) => b.code === bank)?.cylinders.length ?? 0) : 0
  return jointDrawing(viewsOf(type).find((v) => v.code === view)?.name ?? '', joints[0]!.fasteners.map((f) => fastener(joints[0]!.code, f)), chambers, room)
}

function fastener(joint: string, f: { label: string; x_mm: number; y_mm: number }): Fastener {
  const turned = ACROSS.includes(partOf(joint))
  return { code: `${joint}/${f.label}`, label: f.label, along: turned ? f.y_mm : f.x_mm, across: turned ? f.x_mm : f.y_mm }
}

function capsDrawing(part: string, joints: DrawnType['joints'], room: number): Drawing {
  const rows = joints.flatMap((joint, row) =>
    joint.fasteners.map((f) => ({ ...fastener(joint.code, f), along: row * 100 + f.y_mm })),
  )
  const drawing = jointDrawing(nameTogether(part), rows, 0, room)
  const words = joints.map((joint) => {
    const own = drawing.spots.filter((s) => s.code.startsWith(`${joint.code}/`))
    return { x: drawing.width / 2, y: own.reduce((sum, s) => sum + s.y, 0) / own.length + 7, text: joint.code.split('/')[1] ?? '' }
  })
  return { ...drawing, words }
}

// Parts that are shown by the bore, the main or the pin they belong to.
const BY_BORE = ['bore', 'piston', 'ring', 'gudgeon_pin', 'rod', 'rod_bearing', 'chamber', 'plug', 'glow_plug', 'injector', 'valve', 'valve_seat', 'valve_guide', 'valve_spring', 'tappet', 'rocker', 'push_rod', 'lobe', 'rod_bolt']
const BY_MAIN = ['main', 'main_bearing', 'main_cap', 'main_bolt']
const BY_VALVE = ['valve', 'valve_seat', 'valve_guide', 'valve_spring', 'tappet', 'rocker', 'push_rod', 'lobe']

/** The symbol in a view that stands for a place: the bore for its piston, the main for its cap; null when none does. */
export function symbolFor(drawing: Drawing, place: string): string | null {
  const drawn = new Set(drawing.spots.map((s) => s.code))
  if (drawn.has(place)) return place
  const [part = '', first = '', side = '', number = '1'] = place.split('/')
  const tries: string[] = []
  if (BY_VALVE.includes(part)) tries.push(`valve/${first}/${side}/${number}`)
  if (BY_BORE.includes(part)) tries.push(`bore/${first}`)
  if (BY_MAIN.includes(part)) tries.push(`main/${first}`)
  return tries.find((code) => drawn.has(code)) ?? null
}

/** The view in which a place is best seen: its own, or the block. */
export function viewFor(type: DrawnType, place: string, now = BLOCK): string {
  if (place && symbolFor(drawingOf(type, now), place)) return now
  return viewsOf(type).find((view) => symbolFor(drawingOf(type, view.code), place))?.code ?? now
}

/** Records by symbol: what lies at a place counts for the symbol that stands for it. */
export function tallyBySymbol(drawing: Drawing, tallies: Record<string, number>): Record<string, number> {
  const sums: Record<string, number> = {}
  for (const [place, count] of Object.entries(tallies)) {
    const symbol = symbolFor(drawing, place)
    if (symbol) sums[symbol] = (sums[symbol] ?? 0) + count
  }
  return sums
}

/** The symbols that stand for any of these places. */
export function symbolsFor(drawing: Drawing, places: Iterable<string>): Set<string> {
  return new Set([...places].map((place) => symbolFor(drawing, place)).filter((s): s is string => s !== null))
}
