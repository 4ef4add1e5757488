// The fields of a record's body in the words of the workshop, and what a correction made of them.

import { KINDS } from '../../../trade/record/kinds.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { procedureName } from '../../../trade/measuring/procedure_words.ts'
import { departureWords } from '../../../trade/tightening/words.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import type { Item } from '../../frame/shapes.ts'

const WORDS: Record<string, string> = {
  caption: 'words',
  text: 'note',
  quantity: 'what was measured',
  value: 'value',
  unit: 'unit',
  gauge: 'gauge',
  remark: 'remark',
  fastener: 'fastener',
  method: 'how',
  tool: 'tool',
  state: 'thread',
  given: 'value given',
  set_value: 'tool set to',
  use: 'tightened before',
  departure: 'departure',
  procedure: 'procedure',
  edition: 'edition',
  reading: 'reading in the grid',
  gauge_id: 'gauge of the register',
  part_temperature: 'part at',
  gauge_temperature: 'gauge at',
  material: 'material',
  observation: 'seen',
  condition: 'condition',
  opinion: 'opinion',
  title: 'title',
  item: 'item',
  note: 'remark',
  reason: 'reason',
  location: 'place',
  number: 'job number',
  vehicle: 'vehicle',
  registration: 'registration',
  engine_type: 'engine type',
  engine_number: 'engine number',
  distance: 'distance or hours',
  distance_unit: 'unit',
  complaint: 'complaint',
  received_as: 'state on arrival',
  earlier_job: 'earlier job',
  mode: 'spoken as',
  heard: 'proposed from',
  heard_by: 'heard by',
  disposition: 'to do',
}

/** A field's name; one word means two things in two kinds. */
export function fieldWords(field: string, kind = ''): string {
  if (kind === 'measured' && field === 'state') return 'state of the part'
  return WORDS[field] ?? field.replaceAll('_', ' ')
}

/** The fields of each kind that a person wrote and may correct; the rest was taken by the device and stands. */
export const CORRECTABLE: Record<string, string[]> = {
  photo_taken: ['caption'],
  sound_recorded: ['caption'],
  note_made: ['text'],
  measured: (
    'value unit quantity reading state gauge_id gauge part_temperature gauge_temperature material remark'
  ).split(' '),
  fastener_tightened: ['fastener', 'value', 'unit', 'tool', 'remark'],
  finding_made: ['observation', 'condition', 'opinion', 'disposition'],
  document_added: ['title', 'remark'],
  checklist_ticked: ['note'],
  tightening_begun: ['remark'],
  // A reason is not written over: it is taken back, and another one given.
  departure_answered: [],
  tightening_stage_restarted: [],
  tightening_witnessed: ['remark'],
  tightening_closed: ['remark'],
}

/** The fields of this record that may be corrected: an older version of its kind has fewer. */
export function correctable(item: Item): string[] {
  return (CORRECTABLE[item.kind] ?? []).filter((field) => field in item.body)
}

/** Kinds a correction or withdrawal may speak about. */
export function mayBeAnswered(item: Item): boolean {
  return item.kind in CORRECTABLE
}

/** A value as it is read: lists with commas, yes and no, nothing as a dash. */
export function valueWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(String).join(', ') || '–'
  if (value === null || value === undefined || value === '') return '–'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value)
}

/** A choice in the words of its kind's own table ("by the phone's camera"); anything else as `valueWords` says it. */
export function choiceWords(kind: string, field: string, value: unknown): string {
  const spec = KINDS[kind]?.fields[field] as { of?: Record<string, string> } | undefined
  const text = String(value)
  if (field === 'procedure' && (kind === 'measured' || (kind === 'sound_recorded' && text))) return procedureName(text)
  if (kind === 'measured' && field === 'material') return MATERIALS[text]?.words ?? valueWords(value)
  if (kind === 'measured' && field === 'quantity') return QUANTITIES.find(({ code }) => code === text)?.words ?? text
  if (field === 'departure') return departureWords(text)
  if (field === 'given') return value === 'tap' ? 'as the tool told' : 'typed'
  return spec?.of?.[text] || valueWords(value)
}

/** The fields of a record's body in the order its kind lists them, others after. */
export function fieldOrder(item: Item): string[] {
  const listed = Object.keys(KINDS[item.kind]?.fields ?? {}).filter((field) => field in item.body)
  return [...listed, ...Object.keys(item.body).filter((field) => !listed.includes(field))]
}

export interface Change {
  field: string
  from: string
  to: string
}

/**
 * What each correction of a record struck out and put in place, oldest first. A value corrected twice is struck out twice.
 * `placeName` says a place's code in full.
 */
export function changesOf(item: Item, placeName: (code: string) => string): Change[][] {
  const stands: Record<string, unknown> = { ...item.body, location: { place: item.place ?? '', point: item.point } }
  return item.corrected_by.map((correction) =>
    Object.entries(correction.changes).map(([field, to]) => {
      const from = stands[field]
      stands[field] = to
      const say = field === 'location' ? (v: unknown) => locationWords(v, placeName) : valueWords
      return { field, from: say(from), to: say(to) }
    }),
  )
}

function locationWords(value: unknown, placeName: (code: string) => string): string {
  const { place = '', point = '' } = (value ?? {}) as { place?: string; point?: string }
  return place ? [placeName(place), point].filter(Boolean).join(', ') : 'no place'
}

/** The body as it stands today, after all corrections. */
export function standing(item: Item): { body: Record<string, unknown>; place: string; point: string } {
  const body = { ...item.body }
  let { place, point } = { place: item.place ?? '', point: item.point }
  for (const { changes } of item.corrected_by) {
    for (const [field, value] of Object.entries(changes)) {
      if (field === 'location') ({ place, point } = value as { place: string; point: string })
      else body[field] = value
    }
  }
  return { body, place, point }
}
