// The fields of a record's body in words, and how each that a person may correct is edited: all from the data of its kind.

import { MATERIALS } from '../measuring/limits.ts'
import { procedureName } from '../measuring/procedure_words.ts'
import { pointWords, readingCodes, type Procedure } from '../measuring/procedures.ts'
import { QUANTITIES } from '../ground/units.ts'
import type { Spec } from '../ground/shapes.ts'
import { departureWords } from '../tightening/words.ts'
import { KINDS, type FieldFacts } from './kinds.ts'
import { say } from '../ground/say.ts'

/** What is needed of a record: its kind and the body as it was made. */
export interface Recorded {
  kind: string
  body: Record<string, unknown>
}

export interface Option {
  value: string
  words: string
}

/** How one field is edited: its label, and words to choose from or lines to write on. */
export interface Editor {
  field: string
  label: string
  options?: Option[]
  lines?: number
  figures?: boolean
  /** Several words, separated by commas. */
  list?: boolean
}

/** What a form knows of the workshop: the gauges of the register, and the procedure that asked for the reading. */
export interface FormTables {
  gauges: { id: string; name: string }[]
  procedure: Procedure | null
}

const NO_FACTS: FieldFacts = { label: '' }

/** The facts of a field, as its kind has them. */
export function fieldFacts(kind: string, field: string): FieldFacts {
  return KINDS[kind]?.fieldFacts[field] ?? NO_FACTS
}

/** A field's name in words, small letters. */
export function fieldLabel(kind: string, field: string): string {
  if (field === 'location') return 'place'
  return fieldFacts(kind, field).label || field.replaceAll('_', ' ')
}

/** The shape of a field in the newest version of its kind that has it. */
function specOf(kind: string, field: string): Spec | undefined {
  const versions = Object.entries(KINDS[kind]?.versions ?? {}).sort(([a], [b]) => Number(b) - Number(a))
  return versions.map(([, { body }]) => body[field]).find((spec) => spec !== undefined)
}

/** A value as it is read: lists with commas, yes and no, nothing as a dash. */
function plainWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(String).join(', ') || '–'
  if (value === null || value === undefined || value === '') return '–'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value)
}

const TABLES: Record<NonNullable<FieldFacts['as']>, (code: string) => string> = {
  procedure: procedureName,
  material: (code) => MATERIALS[code]?.words ?? code,
  quantity: (code) => QUANTITIES.find((quantity) => quantity.code === code)?.words ?? code,
  departure: departureWords,
  // Both have their words beside them in the record: the point of its place, and the gauge's name.
  reading: (code) => code,
  gauge: (code) => code,
}

/** A value in the words of its kind ("by the phone's camera") or of the table it is a code of; else as `plainWords`. */
export function fieldWords(kind: string, field: string, value: unknown): string {
  const facts = fieldFacts(kind, field)
  const text = typeof value === 'string' ? value : ''
  if (text && facts.as) return TABLES[facts.as](text)
  return facts.words?.[text] ?? (specOf(kind, field)?.of?.[text] || plainWords(value))
}

/** Whether a reader of the facts wants to see this field with this value. */
export function isShown(kind: string, field: string, value: unknown): boolean {
  const { shown = true } = fieldFacts(kind, field)
  return Array.isArray(shown) ? shown.includes(String(value)) : shown
}

/** The fields of a record's body in the order of its kind, any others after. */
export function fieldOrder({ kind, body }: Recorded): string[] {
  const listed = Object.keys(KINDS[kind]?.fieldFacts ?? {}).filter((field) => field in body)
  return [...listed, ...Object.keys(body).filter((field) => !listed.includes(field))]
}

/** The fields of this record that may be corrected: an older version of its kind has fewer. */
export function correctable({ kind, body }: Recorded): string[] {
  if (KINDS[kind]?.corrections !== 'offered') return []
  return Object.entries(KINDS[kind].fieldFacts)
    .filter(([field, { correct, only_with, only_without }]) => correct && field in body && (!only_with || body[only_with]) && (!only_without || !body[only_without]))
    .map(([field]) => field)
}

/** Whether the screens offer to correct or to withdraw records of this kind. */
export const mayBeCorrected = (kind: string): boolean => KINDS[kind]?.corrections === 'offered'
export const mayBeWithdrawn = (kind: string): boolean => KINDS[kind]?.withdrawals === 'offered'

/** How each correctable field of a record is edited. Null for a field of a sort that nobody can type. */
export function editorOf(kind: string, field: string, tables: FormTables): Editor | null {
  const facts = fieldFacts(kind, field)
  const editor: Editor = { field, label: capital(fieldLabel(kind, field)), lines: facts.lines, figures: facts.figures }
  const options = facts.as && OPTIONS[facts.as]?.(tables)
  if (options) return { ...editor, options }
  const spec = specOf(kind, field)
  switch (spec?.is) {
    case 'choice':
      return { ...editor, options: Object.entries(spec.of!).map(([value, words]) => ({ value, words: facts.words?.[value] ?? (words || say('record.not_given')) })) }
    case 'texts':
      return { ...editor, list: true }
    case 'yes_no':
      return { ...editor, options: [{ value: 'yes', words: say('record.yes') }, { value: 'no', words: say('record.no') }] }
    case 'text':
    case 'amount':
    case 'decimal':
      return editor
    case 'whole':
      return { ...editor, figures: true }
    default:
      return null
  }
}

type Options = (tables: FormTables) => Option[] | undefined

const OPTIONS: Partial<Record<NonNullable<FieldFacts['as']>, Options>> = {
  material: () => [{ value: '', words: say('record.not_given') }, ...Object.values(MATERIALS).map(({ code, words }) => ({ value: code, words }))],
  quantity: () => QUANTITIES.map(({ code, words }) => ({ value: code, words })),
  gauge: ({ gauges }) => [{ value: '', words: say('record.no_gauge') }, ...gauges.map(({ id, name }) => ({ value: id, words: name }))],
  reading: ({ procedure }) => (procedure ? readingCodes(procedure).map((value) => ({ value, words: pointWords(procedure, value) })) : undefined),
}

/** A value that is not among the words to choose from is kept as it is: it is added to them. */
export function withOwn(options: Option[] | undefined, value: string): Option[] | undefined {
  if (!options || options.some((option) => option.value === value)) return options
  return [{ value, words: value }, ...options]
}

/** A value as it stands in the form. */
export function written(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return Array.isArray(value) ? value.join(', ') : String(value ?? '')
}

/** The fields whose text in the form is different, each in the shape that its kind asks for. */
export function changed(kind: string, was: Record<string, string>, now: Record<string, string>): Record<string, unknown> {
  const different = Object.entries(now).filter(([field, value]) => value.trim() !== (was[field] ?? '').trim())
  return Object.fromEntries(different.map(([field, value]) => [field, typed(specOf(kind, field), value.trim())]))
}

function typed(spec: Spec | undefined, text: string): unknown {
  if (spec?.is === 'texts') return separated(text)
  if (spec?.is === 'yes_no') return text === 'yes'
  // What is no whole number stays text: the check of the field says so in words.
  if (spec?.is === 'whole') return text === '' && spec.null ? null : /^-?\d{1,15}$/.test(text) ? Number(text) : text
  return text
}

/** Words separated by commas, each once. */
export function separated(words: string): string[] {
  return [...new Set(words.split(',').map((word) => word.trim()).filter(Boolean))]
}

/**
 * What else changes with a field: the name of a gauge that was chosen, and the point of the place that a reading is of.
 * Both say the same, or the record contradicts itself.
 */
export function alongWith(kind: string, field: string, value: string, { gauges, procedure }: FormTables): { values?: Record<string, string>; point?: string } {
  const { as } = fieldFacts(kind, field)
  const gauge = as === 'gauge' && gauges.find(({ id }) => id === value)
  if (gauge) return { values: { gauge: gauge.name } }
  if (as === 'reading' && procedure) return { point: pointWords(procedure, value) }
  return {}
}

function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1)
}
