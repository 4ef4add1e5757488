import type { TighteningStage } from '../../../trade/tightening/stages.ts'
import { fits, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { address } from '../../frame/route.ts'
import { deviationWords } from '../torque/words.ts'

interface Props {
  stage: TighteningStage
  tools: (TorqueTool & { overdue: boolean })[]
}

/** Which tools of the register a stage can be done with, and what speaks against the others. */
export function ToolsFor({ stage, tools }: Props) {
  const inUse = tools.filter(({ retired }) => !retired)
  if (!inUse.length || stage.method === 'release') return null
  const told = inUse.map((tool) => ({ tool, against: fits(tool, stage.method, stage.target, stage.unit) }))
  const good = told.filter(({ against }) => !against.length)
  const bad = told.filter(({ against }) => against.some(([sort]) => sort === 'out_of_range'))
  return (
    <section class="tools-for" aria-label="Tools">
      <h2>Tools for {stage.words || 'this stage'}</h2>
      {good.length === 0 && <p class="caution">No tool of the register fits.</p>}
      <ul class="visits">
        {good.map(({ tool }) => (
          <li key={tool.id}>
            <a href={address(['gauges', 'torque', tool.id])}>{tool.name}</a>, {deviationWords(tool)[0]}
            {tool.overdue && <span class="caution"> past its calibration date</span>}
          </li>
        ))}
        {bad.map(({ tool, against }) => (
          <li key={tool.id} class="soft">
            not {tool.name}: {against.map(([, words]) => words).join(' ')}
          </li>
        ))}
      </ul>
    </section>
  )
}
