import type { ComponentChildren } from 'preact'
import { FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'
import type { FormField } from './schema.ts'
import { SchemaField } from './SchemaField.tsx'

interface Props<T> {
  fields: FormField<T>[]
  typed: T
  /** Whether what is typed can be worked with. */
  sound: boolean
  /** What is wrong with a field; '' when nothing is. */
  wrong: (field: keyof T & string) => string
  put: (changes: Partial<T>) => void
  /** What belongs to no field, or to several. */
  fault: string | undefined
  submit: string
  onSubmit: () => void
  onCancel?: (() => void) | undefined
  /** Stands below the buttons. */
  children?: ComponentChildren
}

/** A form drawn from its schema; faults are shown beside their fields. */
export function SchemaForm<T>({ fields, typed, sound, wrong, put, fault, submit, onSubmit, onCancel, children }: Props<T>) {
  return (
    <form
      noValidate
      class="block halves"
      onSubmit={(event) => {
        event.preventDefault()
        onSubmit()
      }}
    >
      {fields.map((field) => (
        <SchemaField key={field.field + field.control} field={field} typed={typed} sound={sound} wrong={wrong(field.field)} put={put} />
      ))}
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act">{submit}</button>
        {onCancel && (
          <button type="button" class="plain" onClick={onCancel}>
            {say('common.cancel')}
          </button>
        )}
      </div>
      {children}
    </form>
  )
}
