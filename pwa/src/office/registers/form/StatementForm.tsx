import { FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'
import type { FormField } from './schema.ts'
import { SchemaField } from './SchemaField.tsx'
import type { Statements } from './statements.ts'
import { useStatement } from './useStatement.ts'

interface Props<Sort extends keyof Statements> {
  sort: Sort
  start: Statements[Sort]
  fields: FormField<Statements[Sort]>[]
  /** Where it is sent, and the name it has in the message and in the answer. */
  path: string
  name: string
  submit: string
  /** Called with its identifier. */
  onSaved: (id: string) => void
  onCancel?: () => void
}

/** The form of one statement of the workshop, drawn from a schema; faults are shown beside their fields. */
export function StatementForm<Sort extends keyof Statements>({ sort, start, fields, path, name, submit, onSaved, onCancel }: Props<Sort>) {
  const { typed, sound, put, wrong, send, summary } = useStatement(sort, start)
  const save = async (event: Event) => {
    event.preventDefault()
    const answer = await send<{ [name: string]: { id?: string } | undefined }>(path, { [name]: typed })
    if (answer) onSaved(answer[name]?.id ?? '')
  }
  return (
    <form noValidate class="block halves" onSubmit={save}>
      {fields.map((field) => (
        <SchemaField key={field.field + field.control} field={field} typed={typed} sound={sound} wrong={wrong(field.field)} put={put} />
      ))}
      <FaultNotice>{summary}</FaultNotice>
      <div class="acts">
        <button class="main-act">{submit}</button>
        {onCancel && (
          <button type="button" class="plain" onClick={onCancel}>
            {say('common.cancel')}
          </button>
        )}
      </div>
    </form>
  )
}
