import { useMemo } from 'preact/hooks'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Limit } from '../../../trade/measuring/limits.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { say } from '../../frame/say.ts'
import { Sheet } from '../../frame/Sheet.tsx'
import { StatementForm } from '../form/StatementForm.tsx'
import { limitFields } from './limit_fields.ts'

interface Props {
  type: EngineType
  procedures: Procedure[]
  start: Limit
  onSaved: () => void
  close: () => void
}

/** Adds a limit or changes one. It is refused without its source. */
export function LimitForm({ type, procedures, start, onSaved, close }: Props) {
  const fields = useMemo(() => limitFields(type, procedures, Boolean(start.id)), [type, procedures, start.id])
  return (
    <Sheet title={start.id ? say('limits.change_limit') : say('limits.add_limit')} close={close}>
      <StatementForm
        sort="limit"
        start={start}
        fields={fields}
        path={`/api/engine-types/${type.id}/limits`}
        name="limit"
        submit={say('common.save')}
        onSaved={onSaved}
      />
    </Sheet>
  )
}
