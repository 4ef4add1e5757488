import { useMemo } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Size } from '../../../trade/measuring/limits.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { Sheet } from '../../frame/Sheet.tsx'
import { StatementForm } from '../form/StatementForm.tsx'
import { sizeFields } from './size_fields.ts'

interface Props {
  type: EngineType
  procedures: Procedure[]
  start: Size
  onSaved: () => void
  close: () => void
}

/** Adds a size of an engine type or changes one. */
export function SizeForm({ type, procedures, start, onSaved, close }: Props) {
  const fields = useMemo(() => sizeFields(type, procedures, Boolean(start.id)), [type, procedures, start.id])
  return (
    <Sheet title={start.id ? say('limits.change_size') : say('limits.add_size')} close={close}>
      <StatementForm
        sort="size"
        start={start}
        fields={fields}
        path={`/api/engine-types/${type.id}/limits`}
        name="size"
        submit={say('common.save')}
        onSaved={onSaved}
      />
    </Sheet>
  )
}
