import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address, go, route } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { CalibrationCells, inUseFirst } from '../Calibration.tsx'
import { rangeWords } from '../register_range.ts'
import { newTool } from './tool_fields.ts'
import { ToolForm } from './ToolForm.tsx'
import { ToolView } from './ToolView.tsx'
import { cyclesWords, deviationWords, knownDeviation, sortWords, usedWords } from './wording.ts'

type Line = TorqueTool & { overdue: boolean }

/** The register of torque tools, and the pages under it. */
export function Tools() {
  const [, , id, leaf] = route.value.path
  const { data, error, reload } = useGet<{ tools: Line[] }>('/api/torque-tools')
  const tools = data?.tools ?? []
  const tool = tools.find((line) => line.id === id)
  const onSaved = (saved: string) => {
    reload()
    go(['gauges', 'torque', saved])
  }
  if (id === 'new' && isManager.value) return <ToolForm start={newTool()} onSaved={onSaved} />
  if (id && !data && !error) return <p class="opening">{say('registers.opening')}</p>
  if (tool && leaf === 'edit' && isManager.value) return <ToolForm key={tool.id} start={described(tool)} onSaved={onSaved} />
  if (tool) return <ToolView key={tool.id} tool={tool} />
  return <Register tools={tools} loaded={Boolean(data)} fault={error?.message || (id && data ? say('tools.not_found') : '')} />
}

/** What each tool is used for, its permissible deviation, and until when its calibration is valid. */
function Register({ tools, loaded, fault }: { tools: Line[]; loaded: boolean; fault: string }) {
  const overdue = tools.filter((tool) => tool.overdue && !tool.retired)
  const acts = (
    <>
      <a class="act" href={address(['gauges'])}>
        {say('gauges.title')}
      </a>
      {isManager.value && (
        <a class="act main-act" href={address(['gauges', 'torque', 'new'])}>
          {say('tools.new')}
        </a>
      )}
    </>
  )
  return (
    <section class="page register-page" aria-labelledby="tools-title">
      <PageHead id="tools-title" title={say('tools.title')} acts={acts}>
        {overdue.length > 0 && (
          <p class="caution">
            <b>{say('tools.overdue', { count: overdue.length, names: listed(overdue.map(({ name }) => name)) })}</b>
          </p>
        )}
      </PageHead>
      <FaultNotice>{fault}</FaultNotice>
      {loaded && tools.length === 0 && <EmptyNotice>{say('tools.none_yet')}</EmptyNotice>}
      {tools.length > 0 && <ToolTable tools={tools} />}
    </section>
  )
}

function ToolTable({ tools }: { tools: Line[] }) {
  return (
    <table class="register gauges whole thick-over">
      <thead>
        <tr>
          <th scope="col">{say('tools.column_tool')}</th>
          <th scope="col">{say('registers.column_range')}</th>
          <th scope="col">{say('tools.column_deviation')}</th>
          <th scope="col">{say('registers.column_calibrated')}</th>
          <th scope="col">{say('registers.column_due')}</th>
          <th scope="col">{say('tools.column_cycles')}</th>
        </tr>
      </thead>
      <tbody>
        {inUseFirst(tools).map((tool) => (
          <tr key={tool.id} class={tool.retired ? 'is-retired' : ''} onClick={() => go(['gauges', 'torque', tool.id])}>
            <th scope="row">
              <a href={address(['gauges', 'torque', tool.id])}>{tool.name}</a>
              <span class="soft">{[sortWords(tool.sort), tool.serial].filter(Boolean).join(', ')}</span>
            </th>
            <td data-word={say('registers.column_range')}>
              <span class="figure">{rangeWords(tool)}</span>
              {usedWords(tool) && <span class="soft gauge-paper own-line small">{usedWords(tool)}</span>}
            </td>
            <td data-word={say('tools.column_deviation')}>
              <span class="figure">{deviationWords(tool)}</span>
              <span class="soft gauge-paper own-line small">{knownDeviation(tool)?.from}</span>
            </td>
            <CalibrationCells of={tool} />
            <td data-word={say('tools.column_cycles')}>{cyclesWords(tool)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The description alone, without what the register adds to it. */
function described(line: Line): TorqueTool {
  const names = Object.keys(newTool()) as (keyof TorqueTool)[]
  return Object.fromEntries(names.map((name) => [name, line[name]])) as unknown as TorqueTool
}
