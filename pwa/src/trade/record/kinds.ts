// The kinds of entry and the check of one entry: the twin of trade/record/kinds.py, from the same files. All that is known
// of a kind stands in data/kinds/<kind>.json; data/kinds.json says what the words in it mean.
// The phone checks what it has made before it signs, so that a fault shows in the bay and not at the server.

import table from '../../../../server/witnessmark/trade/data/kinds.json'
import type { Entry } from '../ground/entry.ts'
import { Refusal } from '../ground/errors.ts'
import * as shapes from '../ground/shapes.ts'
import { CODES } from '../engine/stages.ts'
import type { Check, Spec } from '../ground/shapes.ts'
import { say } from '../ground/say.ts'

export interface MediaRule {
  role: string
  count: number
  types: string[]
}

export interface Version {
  body: Record<string, Spec>
  media: MediaRule | null
}

/** How a record is drawn when it is opened. */
export type View = 'picture' | 'sound' | 'document' | 'reading' | 'tightening' | 'finding' | 'text' | 'facts'

/** Whether a correction or withdrawal is offered by both faces, only taken by the log, or refused by it. */
export type Answers = 'offered' | 'taken' | 'refused'

export interface FieldFacts {
  label: string
  /** A person may correct it, always or depending on whether another field is filled in. */
  correct?: boolean
  only_with?: string
  only_without?: string
  lines?: number
  figures?: boolean
  /** False where it stands elsewhere or tells a reader nothing; a list: the values that are worth saying. */
  shown?: boolean | string[]
  /** The words of a value, where they are not those of its shape. */
  words?: Record<string, string>
  /** The table that its value is a code of. */
  as?: 'procedure' | 'reading' | 'material' | 'quantity' | 'departure' | 'gauge'
}

/** A file of data/kinds. */
interface KindData {
  words: string
  sign: string
  group: string
  job: 'needed' | 'none' | 'either'
  feed: string
  location: boolean
  about: '' | 'record' | 'sound'
  corrections: Answers
  withdrawals: Answers
  line: { title: string; text: string }
  large: { as: View; fields: string[] }
  fields: Record<string, FieldFacts>
  versions: Record<number, Version>
}

export interface Kind {
  name: string
  words: string
  /** An icon of parts/controls/icons.tsx. */
  sign: string
  /** A code of GROUPS. */
  group: string
  job: 'needed' | 'none' | 'either'
  needsJob: boolean
  inWorkshopFeed: boolean
  mayHaveLocation: boolean
  /** Speaks of another record or of a sound, and is read there. */
  about: '' | 'record' | 'sound'
  corrections: Answers
  withdrawals: Answers
  line: { title: string; text: string }
  view: View
  /** Fields that are read in the view, and need not be said again under it. */
  readThere: string[]
  /** Every field of every version, in the order of the forms. */
  fieldFacts: Record<string, FieldFacts>
  versions: Record<number, Version>
  latest: number
  /** Fields and media of the latest version: what is made today. */
  fields: Record<string, Spec>
  media: MediaRule | null
}

const LIMITS = table.limits
/** Bytes of an entry that the server accepts from a phone. */
export const LONGEST_ENTRY = LIMITS.entry_bytes
/** The groups of the filter, in their order, with their words. */
export const GROUPS: Record<string, string> = table.groups

const FILES = import.meta.glob<KindData>('../../../../server/witnessmark/trade/data/kinds/*.json', { eager: true, import: 'default' })

export const KINDS: Record<string, Kind> = Object.fromEntries(
  Object.entries(FILES).map(([path, spec]) => {
    const name = path.replace(/^.*\/|\.json$/g, '')
    const { versions } = spec
    const latest = Math.max(...Object.keys(versions).map(Number))
    const kind: Kind = {
      name,
      words: spec.words,
      sign: spec.sign,
      group: spec.group,
      job: spec.job,
      needsJob: spec.job === 'needed',
      inWorkshopFeed: spec.feed !== 'job',
      mayHaveLocation: spec.location,
      about: spec.about,
      corrections: spec.corrections,
      withdrawals: spec.withdrawals,
      line: spec.line,
      view: spec.large.as,
      readThere: spec.large.fields,
      fieldFacts: spec.fields,
      versions,
      latest,
      fields: versions[latest]!.body,
      media: versions[latest]!.media,
    }
    return [name, kind]
  }),
)

function namesOf(test: (kind: Kind) => boolean): string[] {
  return Object.values(KINDS).filter(test).map(({ name }) => name)
}

/** The kinds that speak of another record or of a sound, and are read there. */
export const ABOUT = { record: namesOf(({ about }) => about === 'record'), sound: namesOf(({ about }) => about === 'sound') }

/** The kinds whose newest version has this field, such as "run" or "spoken". */
export const kindsWith = (field: string): string[] => namesOf(({ fields }) => Object.hasOwn(fields, field))

/** The sound that a record was spoken in, the words that were proposed from it, and by which recogniser. */
export interface Spoken {
  spoken: string
  heard: string
  heard_by: string
}

/** What a record says of it when it was typed. */
export const TYPED: Spoken = { spoken: '', heard: '', heard_by: '' }

const ENTRY_KEYS = [
  'author', 'body', 'claimed', 'clock', 'device', 'id', 'job', 'kind', 'location',
  'media', 'previous', 'sequence', 'stage', 'version', 'workshop',
]
const LINKED_KEYS = [...ENTRY_KEYS, 'links']
const CLOCK_KEYS = ['boot', 'monotonic_ms', 'offset_age_s', 'offset_ms', 'zone']
const MEDIA_KEYS = ['length', 'name', 'role', 'sha256', 'type']
const PICTURE_KEYS = [...MEDIA_KEYS, 'scan_sha256']

const stage: Check = (value) =>
  typeof value === 'string' && CODES.includes(value) ? null : say('record.wrong.stage')

const jobFacts = Object.fromEntries(
  Object.entries(KINDS['job_opened']!.fields).map(([name, spec]) => [name, shapes.shape(spec)]),
)

const jobChanges: Check = (value) => {
  if (!shapes.isObject(value) || Object.keys(value).length === 0) return say('record.wrong.no_fact')
  for (const [name, now] of Object.entries(value)) {
    if (!Object.hasOwn(jobFacts, name)) return say('record.wrong.strange_fact', { name })
    const reason = jobFacts[name]!(now)
    if (reason) return say('record.wrong.has', { name, reason })
  }
  return null
}

const description: Check = (value) => (shapes.isObject(value) ? null : say('record.wrong.not_object'))

// Whole descriptions are written at the desk alone, and checked by the server: a phone only has to know that they are
// objects.
const SPECIAL: Record<string, Check> = {
  stage,
  job_changes: jobChanges,
  engine_type: description,
  gauge: description,
  limit: description,
  size: description,
  procedure: description,
  measuring_rules: description,
  tightening_sheet: description,
  torque_tool: description,
}

/** The check of one field as its kind describes it. */
export function fieldCheck(spec: Spec): Check {
  return SPECIAL[spec.is] ?? shapes.shape(spec)
}

const bootCheck = /^[0-9a-f]{8}$/
const clockChecks: [string, Check][] = [
  ['monotonic_ms', shapes.whole(0)],
  ['offset_ms', shapes.nothingOr(shapes.whole(-Number.MAX_SAFE_INTEGER))],
  ['offset_age_s', shapes.nothingOr(shapes.whole(0))],
]
const zone = shapes.text(LIMITS.zone)

const clock: Check = (value) => {
  if (!shapes.hasExactly(value, CLOCK_KEYS)) {
    return say('record.wrong.clock_fields')
  }
  const boot = value['boot']
  if (typeof boot !== 'string' || !bootCheck.test(boot)) return say('record.wrong.boot')
  const wrong = fieldsFault(value, clockChecks)
  if (wrong) return wrong
  const reason = zone(value['zone'])
  return reason && say('record.wrong.zone', { reason })
}

function linksFault(value: unknown, inAJob: boolean): string | null {
  if (!shapes.hasExactly(value, ['job', 'log'])) return say('record.wrong.link_fields')
  const { job, log } = value
  if ((job !== null) !== inAJob) return say('record.wrong.link_job')
  if (job !== null) {
    if (!shapes.hasExactly(job, ['number', 'previous'])) return say('record.wrong.link_fields')
    const reason = fieldsFault(job, [['number', shapes.whole(1)], ['previous', shapes.hash64]])
    if (reason) return reason
    if ((job['number'] === 1) !== (job['previous'] === shapes.ZERO_HASH))
      return say('record.wrong.has', { name: 'previous', reason: say('record.wrong.previous') })
  }
  if (log === null) return null
  if (!shapes.hasExactly(log, ['root', 'size'])) return say('record.wrong.link_fields')
  return fieldsFault(log, [['root', shapes.hash64], ['size', shapes.whole(1)]])
}

function fieldsFault(value: Record<string, unknown>, checks: [string, Check][]): string | null {
  for (const [name, check] of checks) {
    const reason = check(value[name])
    if (reason) return say('record.wrong.has', { name, reason })
  }
  return null
}

const ENVELOPE: [keyof Entry, Check][] = [
  ['id', shapes.uuid7],
  ['workshop', shapes.uuid],
  ['device', shapes.uuid],
  ['author', shapes.uuid],
  ['job', shapes.nothingOr(shapes.uuid)],
  ['sequence', shapes.whole(1)],
  ['previous', shapes.hash64],
  ['claimed', shapes.time],
  ['clock', clock],
  ['location', shapes.location],
  ['stage', shapes.nothingOr(stage)],
]

function refusal(kind: Kind | null, code: string, where: string, reason: string): Refusal {
  const thing = kind ? kind.words : say('record.entry')
  return new Refusal(code, where, say('record.not_accepted', { kind: thing, field: where, reason }))
}

function needKeys(kind: Kind | null, where: string, given: unknown, wanted: readonly string[]) {
  if (shapes.hasExactly(given, wanted)) return
  if (!shapes.isObject(given)) throw refusal(kind, 'bad_value', where || 'entry', say('record.wrong.not_object'))
  const inside = where ? `${where}.` : ''
  const unknown = Object.keys(given).filter((name) => !wanted.includes(name)).sort()[0]
  if (unknown !== undefined) throw refusal(kind, 'unknown_field', inside + unknown, say('record.wrong.unknown_field'))
  const missing = [...wanted].filter((name) => !Object.hasOwn(given, name)).sort()[0]
  throw refusal(kind, 'missing_field', inside + missing, say('record.wrong.missing'))
}

/** Checks the body alone, for a form that is still being filled in. Throws Refusal. */
export function checkBody(kindName: string, body: unknown, version?: number): void {
  const kind = KINDS[kindName]!
  const fields = kind.versions[version ?? kind.latest]!.body
  needKeys(kind, 'body', body, Object.keys(fields))
  for (const [name, spec] of Object.entries(fields)) {
    const reason = fieldCheck(spec)((body as Record<string, unknown>)[name])
    if (reason) throw refusal(kind, 'bad_value', `body.${name}`, reason)
  }
}

function checkMedia(kind: Kind, rule: MediaRule | null, media: unknown) {
  if (!Array.isArray(media)) throw refusal(kind, 'bad_value', 'media', say('record.wrong.not_list'))
  const count = rule ? rule.count : 0
  if (media.length !== count) {
    throw refusal(kind, 'media', 'media', say('record.wrong.media_count', { given: media.length, wanted: count }))
  }
  media.forEach((item, index) => {
    const where = `media.${index}`
    const scanned = shapes.isObject(item) && Object.hasOwn(item, 'scan_sha256')
    needKeys(kind, where, item, scanned ? PICTURE_KEYS : MEDIA_KEYS)
    const reasons: [string, string | null][] = [
      ['length', shapes.whole(1, LIMITS.media_bytes)(item.length)],
      ['name', shapes.text(LIMITS.media_name)(item.name)],
      ['sha256', shapes.hash64(item.sha256)],
      ['scan_sha256', scanned ? shapes.hash64(item.scan_sha256) : null],
      ['type', shapes.text(100, 1)(item.type)],
    ]
    for (const [name, reason] of reasons) if (reason) throw refusal(kind, 'bad_value', `${where}.${name}`, reason)
    if (item.role !== rule!.role) throw refusal(kind, 'media', `${where}.role`, say('record.wrong.not_role', { role: rule!.role }))
    if (!rule!.types.some((start) => item.type.startsWith(start))) {
      throw refusal(kind, 'media', `${where}.type`, say('record.wrong.media_type', { type: item.type }))
    }
  })
}

/** Returns when `entry` is shaped as its kind and version ask; else throws Refusal. It looks at the entry alone. */
export function checkEntry(entry: unknown): asserts entry is Entry {
  needKeys(null, '', entry, shapes.isObject(entry) && Object.hasOwn(entry, 'links') ? LINKED_KEYS : ENTRY_KEYS)
  const made = entry as unknown as Entry
  const kind = typeof made.kind === 'string' && Object.hasOwn(KINDS, made.kind) ? KINDS[made.kind]! : null
  if (!kind) throw refusal(null, 'unknown_kind', 'kind', say('record.wrong.unknown_here', { shown: show(made.kind) }))
  const version = typeof made.version === 'number' ? kind.versions[made.version] : undefined
  if (!version) {
    throw refusal(kind, 'unknown_version', 'version', say('record.wrong.unknown_here', { shown: show(made.version) }))
  }
  for (const [field, check] of ENVELOPE) {
    const reason = check(made[field])
    if (reason) throw refusal(kind, 'bad_value', field, reason)
  }
  if ((made.sequence === 1) !== (made.previous === shapes.ZERO_HASH)) {
    throw refusal(kind, 'bad_value', 'previous', say('record.wrong.previous'))
  }
  if (made.job === null) {
    if (kind.job === 'needed') throw refusal(kind, 'needs_job', 'job', say('record.wrong.needs_job'))
  } else if (kind.job === 'none') {
    throw refusal(kind, 'needs_no_job', 'job', say('record.wrong.needs_no_job'))
  }
  if (made.location !== null && !kind.mayHaveLocation) {
    throw refusal(kind, 'location', 'location', say('record.wrong.location'))
  }
  const unlinked = made.links === undefined ? null : linksFault(made.links, made.job !== null)
  if (unlinked) throw refusal(kind, 'bad_value', 'links', unlinked)
  checkBody(made.kind, made.body, made.version)
  checkMedia(kind, version.media, made.media)
}

function show(value: unknown): string {
  return typeof value === 'string' ? `'${value}'` : String(value)
}
