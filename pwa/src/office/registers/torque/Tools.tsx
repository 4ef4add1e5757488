import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { PageHead } from '../../frame/PageHead.tsx'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { dateWords, dueWords, today } from '../measuring/dates.ts'
import { address, go, route } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { count } from '../../frame/words.ts'
import { newTool, ToolForm } from './ToolForm.tsx'
import { ToolView } from './ToolView.tsx'
import { cyclesWords, deviationWords, rangeWords, sortWords, usedWords } from './words.ts'

type Line = TorqueTool & { overdue: boolean }

/** The register of torque tools: what each is used for, how far it may be off, and until when that is vouched for. */
export function Tools() {
  const [, , id, leaf] = route.value.path
  const { told, trouble, again } = useAsk<{ tools: Line[] }>('/api/torque-tools')
  const tools = told?.tools ?? []
  const one = tools.find((tool) => tool.id === id)
  const saved = (tool: string) => {
    again()
    go(['gauges', 'torque', tool])
  }
  if (id === 'new' && isManager.value) return <ToolForm start={newTool()} saved={saved} />
  if (id && !told && !trouble) return <p class="opening">Opening the register.</p>
  if (one && leaf === 'edit' && isManager.value) return <ToolForm key={one.id} start={described(one)} saved={saved} />
  if (one) return <ToolView key={one.id} tool={one} />
  const inUse = tools.filter(({ retired }) => !retired)
  const overdue = inUse.filter((tool) => tool.overdue)
  return (
    <section class="page register-page" aria-labelledby="tools-title">
      <PageHead
        id="tools-title"
        title="Torque tools"
        acts={
          <>
            <a class="act" href={address(['gauges'])}>
              Gauges
            </a>
            {isManager.value && (
              <a class="act main-act" href={address(['gauges', 'torque', 'new'])}>
                New torque tool
              </a>
            )}
          </>
        }
      >
        {overdue.length > 0 && (
          <p class="caution">
            <b>
              {count(overdue.length, 'tool')} past the calibration date: {overdue.map(({ name }) => name).join(', ')}.
            </b>
          </p>
        )}
      </PageHead>
      <Fault>{trouble?.message || (id && told && !one ? 'There is no such torque tool in the register.' : '')}</Fault>
      {told && tools.length === 0 && (
        <Empty>
          The register is empty. A fastener can still be recorded with the tool named by hand, but nobody then knows its range or its
          calibration.
        </Empty>
      )}
      {tools.length > 0 && (
        <table class="register gauges">
          <thead>
            <tr>
              <th scope="col">tool</th>
              <th scope="col">range</th>
              <th scope="col">permissible deviation</th>
              <th scope="col">calibrated</th>
              <th scope="col">due</th>
              <th scope="col">or by fasteners</th>
            </tr>
          </thead>
          <tbody>
            {[...inUse, ...tools.filter(({ retired }) => retired)].map((tool) => (
              <tr key={tool.id} class={tool.retired ? 'is-retired' : ''} onClick={() => go(['gauges', 'torque', tool.id])}>
                <th scope="row">
                  <a href={address(['gauges', 'torque', tool.id])}>{tool.name}</a>
                  <span class="soft">
                    {sortWords(tool.sort)}
                    {tool.serial && `, ${tool.serial}`}
                  </span>
                </th>
                <td data-word="range">
                  <span class="figure">{rangeWords(tool)}</span>
                  {usedWords(tool) && <span class="soft gauge-paper">{usedWords(tool)}</span>}
                </td>
                <td data-word="permissible deviation">
                  <span class="figure">{deviationWords(tool)[0]}</span>
                  <span class="soft gauge-paper">{deviationWords(tool)[1]}</span>
                </td>
                <td data-word="calibrated">
                  {tool.calibrated ? dateWords(tool.calibrated) : 'not said'}
                  {tool.certificate && <span class="soft gauge-paper">{tool.certificate}</span>}
                </td>
                <td data-word="">
                  {tool.retired ? 'retired' : <span class={tool.overdue ? 'caution is-late' : ''}>{dueWords(tool.due, today())}</span>}
                </td>
                <td data-word="or by fasteners">{cyclesWords(tool)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

/** The description alone, without what the register says beside it. */
function described(line: Line): TorqueTool {
  const names = Object.keys(newTool()) as (keyof TorqueTool)[]
  return Object.fromEntries(names.map((name) => [name, line[name]])) as unknown as TorqueTool
}
