import type { FormField } from './schema.ts'
import { SchemaForm } from './SchemaForm.tsx'
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

/** The form of one statement of the workshop, checked by the server while it is written. */
export function StatementForm<Sort extends keyof Statements>({ sort, start, fields, path, name, submit, onSaved, onCancel }: Props<Sort>) {
  const { typed, sound, put, wrong, send, summary } = useStatement(sort, start)
  const save = async () => {
    const answer = await send<{ [name: string]: { id?: string } | undefined }>(path, { [name]: typed })
    if (answer) onSaved(answer[name]?.id ?? '')
  }
  const form = { fields, typed, sound, wrong, put, submit, onCancel }
  return <SchemaForm {...form} fault={summary} onSubmit={save} />
}
