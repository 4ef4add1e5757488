// What a register's form asks for, as a list of fields. The form draws them; a schema holds no state.

import type { EngineType } from '../../../trade/engine/parts.ts'
import type { SentenceKey } from '../../frame/say.ts'

export interface Option {
  value: string
  words: string
}

interface Common<T> {
  /** The field of the value, and where its faults are shown. */
  field: keyof T & string
  label: SentenceKey
  hint?: SentenceKey
  /** A hint that depends on what is typed, and on whether it has no fault but an empty name; "" falls back to `hint`. */
  hintFor?: (typed: T, sound: boolean) => string
  needed?: (typed: T) => boolean
  /** Over the whole width of the form. */
  wide?: boolean
  shown?: (typed: T) => boolean
}

/** Words, a name or a number as it was written. */
export interface TextField<T> extends Common<T> {
  control: 'text' | 'number' | 'serial' | 'day' | 'lines'
}

/** A whole number. */
export interface WholeField<T> extends Common<T> {
  control: 'whole'
}

/** A choice from a list, such as a unit. */
export interface ChoiceField<T> extends Common<T> {
  control: 'choice'
  options: (typed: T) => Option[]
  /** What is chosen, where that is not the field itself. */
  value?: (typed: T) => string
  /** What else changes with it. */
  change?: (value: string, typed: T) => Partial<T>
}

/** Several values separated by spaces. */
export interface ListField<T> extends Common<T> {
  control: 'list'
}

/** The places of a part that it counts for. */
export interface PlacesField<T> extends Common<T> {
  control: 'where'
  type: EngineType
  part: (typed: T) => string
}

/** A box to tick. */
export interface TickField<T> extends Common<T> {
  control: 'tick'
}

export type FormField<T> = TextField<T> | WholeField<T> | ChoiceField<T> | ListField<T> | PlacesField<T> | TickField<T>

export const always = () => true
