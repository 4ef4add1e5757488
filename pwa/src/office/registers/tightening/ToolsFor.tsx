import type { TighteningStage } from '../../../trade/tightening/stages.ts'
import { fits, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { deviationWords } from '../torque/wording.ts'

interface Props {
  stage: TighteningStage
  tools: (TorqueTool & { overdue: boolean })[]
}

/** Which tools of the register a stage can be done with, and why the others do not suit. */
export function ToolsFor({ stage, tools }: Props) {
  const inUse = tools.filter(({ retired }) => !retired)
  if (!inUse.length || stage.method === 'release') return null
  const checked = inUse.map((tool) => ({ tool, against: fits(tool, stage.method, stage.target, stage.unit) }))
  const suitable = checked.filter(({ against }) => !against.length)
  const outOfRange = checked.filter(({ against }) => against.some(([sort]) => sort === 'out_of_range'))
  return (
    <section class="above-6" aria-label={say('tightening.tools')}>
      <h2>{stage.words ? say('tightening.tools_for', { stage: stage.words }) : say('tightening.tools_for_this')}</h2>
      {suitable.length === 0 && <p class="caution">{say('tightening.no_tool_fits')}</p>}
      <ul class="visits">
        {suitable.map(({ tool }) => (
          <li key={tool.id}>
            <a href={address(['gauges', 'torque', tool.id])}>{tool.name}</a>, {deviationWords(tool)}
            {tool.overdue && <span class="caution"> {say('tightening.tool_overdue')}</span>}
          </li>
        ))}
        {outOfRange.map(({ tool, against }) => (
          <li key={tool.id} class="soft">
            {say('tightening.tool_unsuitable', { tool: tool.name, reasons: against.map(([, words]) => words).join(' ') })}
          </li>
        ))}
      </ul>
    </section>
  )
}
