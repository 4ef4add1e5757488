import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { go } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { StatementForm } from '../form/StatementForm.tsx'
import { TOOL_FIELDS } from './tool_fields.ts'

/** Adds a torque tool to the register or changes its description. */
export function ToolForm({ start, onSaved }: { start: TorqueTool; onSaved: (id: string) => void }) {
  return (
    <section class="page narrow-page" aria-labelledby="tool-form-title">
      <header class="page-head along wrapped">
        <h1 id="tool-form-title">{start.id ? say('registers.edit_name', { name: start.name }) : say('tools.new')}</h1>
      </header>
      {start.id && <p class="page-words">{say('tools.earlier_stay')}</p>}
      <StatementForm
        sort="torque_tool"
        start={start}
        fields={TOOL_FIELDS}
        path="/api/torque-tools"
        name="tool"
        submit={start.id ? say('common.save') : say('registers.add')}
        onSaved={onSaved}
        onCancel={() => go(start.id ? ['gauges', 'torque', start.id] : ['gauges', 'torque'])}
      />
    </section>
  )
}
