import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { FactList } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { dateWords, dueWords, today } from '../measuring/dates.ts'
import type { ToolShown } from '../tightening/shapes.ts'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import { dayAndClock, nameOf } from '../../frame/words.ts'
import { ExtensionSum } from './ExtensionSum.tsx'
import { cyclesWords, deviationWords, rangeWords, sortWords, usedWords } from './words.ts'

/** One torque tool: its description, what to set it to with an extension, and how it was described before. */
export function ToolView({ tool }: { tool: TorqueTool }) {
  const { told } = useAsk<ToolShown>(`/api/torque-tools/${tool.id}`)
  const [permitted, from] = deviationWords(tool)
  const facts: [string, string][] = [
    ['sort', sortWords(tool.sort)],
    ['serial number', tool.serial],
    ['range', [rangeWords(tool), usedWords(tool)].filter(Boolean).join('; ')],
    ['permissible deviation', [permitted, from].filter(Boolean).join(', ')],
    ['calibrated', tool.calibrated && dateWords(tool.calibrated)],
    ['due', tool.retired ? 'retired' : dueWords(tool.due, today())],
    ['or by fasteners', cyclesWords(tool)],
    ['certificate', tool.certificate],
    ['notes', tool.notes],
  ]
  return (
    <section class="page gauge-page" aria-labelledby="tool-title">
      <PageHead
        id="tool-title"
        title={tool.name}
        acts={
          <>
            <a class="act" href={address(['gauges', 'torque'])}>
              All torque tools
            </a>
            {isManager.value && (
              <a class="act" href={address(['gauges', 'torque', tool.id, 'edit'])}>
                Describe anew
              </a>
            )}
          </>
        }
      />
      <div class="facts-sheet">
        <section aria-label="Description">
          <h2>Description</h2>
          <FactList facts={facts} />
        </section>
        {tool.sort !== 'angle_gauge' && <ExtensionSum tool={tool} />}
        {told && told.history.length > 0 && (
          <section aria-label="History">
            <h2>History</h2>
            <ol class="visits">
              {told.history.map((one) => (
                <li key={one.position}>
                  {dayAndClock(one.received)}, {nameOf(one.author)}
                  <span class="soft gauge-paper">
                    {rangeWords(one.tool)}, {deviationWords(one.tool)[0]}
                    {one.tool.certificate && `, certificate ${one.tool.certificate}`}
                    {one.tool.due && `, due ${dateWords(one.tool.due)}`}
                    {one.tool.retired && ', retired'}
                  </span>
                </li>
              ))}
            </ol>
          </section>
        )}
      </div>
    </section>
  )
}
