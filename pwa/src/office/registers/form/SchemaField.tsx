import { useState } from 'preact/hooks'
import { Field, type FieldProps } from '../../../parts/controls/Field.tsx'
import { say } from '../../frame/say.ts'
import type { FormField, TextField } from './schema.ts'
import { Tick } from './Tick.tsx'
import { WhereField } from './WhereField.tsx'

interface Props<T> {
  field: FormField<T>
  typed: T
  /** Whether what is typed can be worked with. */
  sound: boolean
  wrong: string
  put: (changes: Partial<T>) => void
}

const CONTROLS: Record<TextField<unknown>['control'], Partial<FieldProps>> = {
  text: {},
  number: { figures: true, keys: 'decimal' },
  serial: { figures: true },
  day: { date: true },
  lines: { lines: 2 },
}

/** One field of a schema. */
export function SchemaField<T>({ field, typed, sound, wrong, put }: Props<T>) {
  if (field.shown && !field.shown(typed)) return null
  const putField = (value: unknown) => put({ [field.field]: value } as Partial<T>)
  const value = typed[field.field]
  if (field.control === 'tick') return <Tick wide label={say(field.label)} checked={Boolean(value)} onChange={putField} />
  if (field.control === 'where') return <WhereField type={field.type} part={field.part(typed)} where={value as string[]} put={putField} wrong={wrong} />
  const hint = field.hintFor?.(typed, sound) || (field.hint && say(field.hint))
  const shared = { label: say(field.label), wrong, ...(hint && { hint }), ...(field.needed?.(typed) && { needed: true }) }
  const control = controlOf(field, shared, typed, put, putField)
  return field.wide ? <div class="wide">{control}</div> : control
}

function controlOf<T>(
  field: Exclude<FormField<T>, { control: 'tick' | 'where' }>,
  shared: Pick<FieldProps, 'label' | 'wrong' | 'hint' | 'needed'>,
  typed: T,
  put: (changes: Partial<T>) => void,
  putField: (value: unknown) => void,
) {
  const value = typed[field.field]
  switch (field.control) {
    case 'choice':
      return (
        <Field
          {...shared}
          value={field.value ? field.value(typed) : String(value)}
          onValue={(next) => (field.change ? put(field.change(next, typed)) : putField(next))}
          options={field.options(typed)}
        />
      )
    case 'whole':
      return (
        <Field
          {...shared}
          value={String(value)}
          // What is no whole number is passed on as it is, so that the check can name it.
          onValue={(text) => putField(/^\d+$/.test(text.trim()) ? Number(text) : text)}
          figures
          keys="numeric"
        />
      )
    case 'list':
      return <ListControl {...shared} values={value as string[]} put={putField} />
    default:
      return <Field {...shared} {...CONTROLS[field.control]} value={String(value)} onValue={putField} />
  }
}

const separated = (text: string) => text.split(/[;\s]+/).filter(Boolean)

/** Several values in one line; the line stays as it is typed while it says the same. */
function ListControl({ values, put, ...shared }: Pick<FieldProps, 'label' | 'wrong' | 'hint' | 'needed'> & { values: string[]; put: (values: string[]) => void }) {
  const [text, setText] = useState('')
  const same = separated(text).join(' ') === values.join(' ')
  return (
    <Field
      {...shared}
      value={same ? text : values.join('  ')}
      onValue={(next) => {
        setText(next)
        put(separated(next))
      }}
      figures
    />
  )
}
