// The line that stands for an entry of a job: a title and a text in the words of the trade. The server's record/lines.py
// says more: the phone shows no line of what the desk alone describes. The patterns are in kinds.json: {name} is filled in, [a part] is left out when something in it is empty.

import quantities from '../../../../server/witnessmark/trade/data/quantities.json'
import { KINDS } from './kinds.ts'
import type { Entry, Location } from '../ground/entry.ts'
import { placeName } from '../engine/locations.ts'
import { procedureName } from '../measuring/procedure_words.ts'
import { standsFor } from './own_words.ts'
import { FASTENER_PARTS, type EngineType } from '../engine/parts.ts'
import type { Spec } from '../ground/shapes.ts'
import { say } from '../ground/say.ts'
import { itemWords, stageWords } from '../engine/stages.ts'
import { boltsWords, departureWords, jointName } from '../tightening/words.ts'

export interface Line {
  title: string
  text: string
}

export type Lined = Pick<Entry, 'kind' | 'version' | 'body' | 'location'>

type Piece = string | { fill: string } | { part: Piece[] }

const QUANTITY_WORDS = new Map(quantities.quantities.map((quantity) => [quantity.code, quantity.words]))
const TOKENS = /\{([a-z0-9_]+)\}|([[\]])|([^[\]{}]+)/g

/** The line of an entry; with the engine type its places are named as this engine names them. */
export function line(entry: Lined, engine: EngineType | null = null): Line {
  const kind = Object.hasOwn(KINDS, entry.kind) ? KINDS[entry.kind]! : null
  if (!kind) return { title: capital(spaced(entry.kind)), text: '' }
  const fill = (name: string) => valueOf(name, entry, engine)
  return {
    title: capital(render(pattern(kind.line.title), fill).trim()),
    text: render(pattern(kind.line.text), fill).trim(),
  }
}

const patterns = new Map<string, Piece[]>()

function pattern(text: string): Piece[] {
  let pieces = patterns.get(text)
  if (!pieces) {
    const stack: Piece[][] = [[]]
    for (const [, name, bracket, plain] of text.matchAll(TOKENS)) {
      if (name) stack.at(-1)!.push({ fill: name })
      else if (bracket === '[') stack.push([])
      else if (bracket === ']') {
        const part = stack.pop()!
        stack.at(-1)!.push({ part })
      } else stack.at(-1)!.push(plain!)
    }
    pieces = stack[0]!
    patterns.set(text, pieces)
  }
  return pieces
}

function render(pieces: Piece[], fill: (name: string) => string): string {
  let out = ''
  for (const piece of pieces) {
    if (typeof piece === 'string') {
      // What somebody wrote may end its own sentence already.
      out += piece.startsWith('.') && /[.!?]$/.test(out) ? piece.slice(1) : piece
    } else if ('fill' in piece) out += fill(piece.fill)
    else if (piece.part.every((part) => typeof part === 'string' || !('fill' in part) || fill(part.fill) !== '')) {
      out += render(piece.part, fill)
    }
  }
  return out
}

function capital(text: string): string {
  const first = [...text.slice(0, 2)][0] ?? ''
  return first.toUpperCase() + text.slice(first.length)
}

function valueOf(name: string, entry: Lined, engine: EngineType | null): string {
  const { body, location } = entry
  const newLocation = () => (body['location'] ?? null) as Location | null
  switch (name) {
    case 'place':
    case 'point': return ofLocation(location, name, engine)
    case 'new_place': return ofLocation(newLocation(), 'place', engine)
    case 'new_point': return ofLocation(newLocation(), 'point', engine)
    case 'fastener_there': return fastenerThere(String(body['fastener'] ?? ''), location, engine)
    case 'joint_there': return jointThere(body, location, engine)
    case 'measured_as': return measuredAs(entry)
    case 'state_there': return stateThere(entry)
    default: return ofBody(name, entry)
  }
}

function ofBody(name: string, entry: Lined): string {
  const { body } = entry
  const value = body[name]
  switch (name) {
    case 'bolts_there': return boltsWords(String(body['bolts']), Number(body['use']))
    case 'departure_there': return departureWords(String(body['departure']))
    case 'new': return newFacts((body['changes'] ?? {}) as Record<string, unknown>)
    case 'stands_for': return standsFor(String(body['means']))
    case 'quantity': return QUANTITY_WORDS.get(value as string) ?? String(value ?? '')
    case 'item': return itemWords(String(body['stage'] ?? ''), String(value ?? ''))
    default: return inWords(specOf(entry, name), value)
  }
}

function specOf(entry: Lined, field: string): Spec | undefined {
  return KINDS[entry.kind]!.versions[entry.version]?.body[field]
}

function inWords(spec: Spec | undefined, value: unknown): string {
  if (value === null || value === undefined) return ''
  switch (spec?.is) {
    case 'choice':
      return spec.of![value as string] ?? String(value)
    case 'yes_no':
      return (value ? spec.yes : spec.no) ?? ''
    case 'stage':
      return stageWords(value as string)
    case 'texts':
      return (value as string[]).join(', ')
    case 'engine_type':
      return String((value as { name?: string }).name ?? '')
    case 'changes':
    case 'job_changes':
      return Object.keys(value as object).sort().map(spaced).join(', ')
    default:
      return String(value)
  }
}

function ofLocation(location: Location | null, name: 'place' | 'point', engine: EngineType | null): string {
  if (!location) return ''
  return name === 'point' ? location.point : placeName(engine, location.place)
}

function fastenerThere(fastener: string, location: Location | null, engine: EngineType | null): string {
  if (!location) return say('record.line.fastener', { fastener })
  const where = placeName(engine, location.place)
  // The place may be the fastener itself: then its number is said once.
  if (FASTENER_PARTS.includes(location.place.split('/')[0]!)) return where
  return say('record.line.fastener_at', { place: where, fastener })
}

/** The joint that was named, or the one that the place is a fastener of. */
function jointThere(body: Lined['body'], location: Location | null, engine: EngineType | null): string {
  const segments = location ? location.place.split('/') : []
  if (FASTENER_PARTS.includes(segments[0] ?? '')) segments.pop()
  return jointName(engine, String(body['joint'] ?? segments.join('/')))
}

/** "Cylinder bore, as found": the procedure that asked for a reading and the state of the engine. */
function measuredAs(entry: Lined): string {
  const state = inWords(specOf(entry, 'state'), entry.body['state'])
  const procedure = entry.body['procedure']
  if (!procedure) return capital(state)
  return say('record.line.measured_as', { procedure: procedureName(String(procedure)), state })
}

/** "Thread oiled", "Bolt used before": what the state of a fastener is said of. */
function stateThere(entry: Lined): string {
  const state = inWords(specOf(entry, 'state'), entry.body['state'])
  if (!state) return ''
  const ofTheBolt = ['new', 'used'].includes(String(entry.body['state']))
  return ofTheBolt ? say('record.line.bolt_state', { state }) : say('record.line.thread_state', { state })
}

function newFacts(changes: Record<string, unknown>): string {
  return Object.keys(changes)
    .sort()
    .filter((name) => {
      const value = changes[name]
      return typeof value === 'string' && value !== '' && !['engine_type', 'earlier_job', 'gauge_id', 'spoken'].includes(name)
    })
    .map((name) => say('record.line.new_fact', { name: spaced(name), value: String(changes[name]) }))
    .join('; ')
}

function spaced(name: string): string {
  return name.replaceAll('_', ' ')
}
