import { alongWith, correctable, editorOf, withOwn, written, type FormTables, type Recorded } from '../../trade/record/fields.ts'
import { say } from '../words/say.ts'
import { Field } from './Field.tsx'

/** The text of each field of a record that a person may correct, as it stands now. `record` is the record as it was made. */
export function writtenFields(record: Recorded, now: Record<string, unknown>): Record<string, string> {
  return Object.fromEntries(correctable(record).map((field) => [field, written(now[field])]))
}

interface Props {
  record: Recorded
  values: Record<string, string>
  tables: FormTables
  onValues: (values: Record<string, string>) => void
  /** The point of the place changes with what was chosen. */
  onPoint: (point: string) => void
}

/** One cell for each field that may be corrected, made from what its kind says of it. */
export function RecordFields({ record, values, tables, onValues, onPoint }: Props) {
  const fields = correctable(record)
  const write = (field: string, value: string) => {
    const along = alongWith(record.kind, field, value, tables)
    onValues({ ...values, ...along.values, [field]: value })
    if (along.point !== undefined) onPoint(along.point)
  }
  return (
    <>
      {fields.map((field) => {
        const editor = editorOf(record.kind, field, tables)
        return (
          editor && (
            <div class={fields.length > 5 && !editor.lines ? '' : 'wide'} key={field}>
              <Field
                label={editor.label}
                value={values[field] ?? ''}
                onValue={(value) => write(field, value)}
                options={withOwn(editor.options, values[field] ?? '')}
                lines={editor.lines}
                figures={editor.figures}
                hint={editor.list ? say('fields.list_hint') : undefined}
              />
            </div>
          )
        )
      })}
    </>
  )
}
