import type { TorqueTool } from '../../../trade/tightening/tools.ts'
import { FactList, type Fact } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { History } from '../History.tsx'
import { dateWords, dueWords, isOverdue, today } from '../measuring/dates.ts'
import { rangeWords } from '../register_range.ts'
import type { ToolShown } from '../tightening/shapes.ts'
import { ExtensionSum } from './ExtensionSum.tsx'
import { cyclesWords, deviationWords, knownDeviation, sortWords, usedWords } from './wording.ts'

/** One torque tool: its description, what to set it to with an extension, and how it was described before. */
export function ToolView({ tool }: { tool: TorqueTool }) {
  const { data } = useGet<ToolShown>(`/api/torque-tools/${tool.id}`)
  const acts = (
    <>
      <a class="act" href={address(['gauges', 'torque'])}>
        {say('tools.all')}
      </a>
      {isManager.value && (
        <a class="act" href={address(['gauges', 'torque', tool.id, 'edit'])}>
          {say('common.edit')}
        </a>
      )}
    </>
  )
  return (
    <section class="page gauge-page" aria-labelledby="tool-title">
      <PageHead id="tool-title" title={tool.name} acts={acts} />
      <div class="columned headed">
        <section aria-label={say('common.description')}>
          <h2>{say('common.description')}</h2>
          <FactList facts={factsOf(tool)} />
        </section>
        {tool.sort !== 'angle_gauge' && <ExtensionSum tool={tool} />}
        <History history={data?.history} describe={(line) => <span class="soft gauge-paper own-line small">{inShort(line.tool)}</span>} />
      </div>
    </section>
  )
}

function factsOf(tool: TorqueTool): Fact[] {
  return [
    [say('registers.fact_type'), sortWords(tool.sort)],
    [say('registers.fact_serial_number'), tool.serial],
    [say('registers.column_range'), [rangeWords(tool), usedWords(tool)].filter(Boolean).join('; ')],
    [say('tools.column_deviation'), [deviationWords(tool), knownDeviation(tool)?.from].filter(Boolean).join(', ')],
    [say('registers.column_calibrated'), tool.calibrated && dateWords(tool.calibrated)],
    [
      say('registers.column_due'),
      tool.retired ? say('registers.retired') : dueWords(tool.due, today()),
      !tool.retired && isOverdue(tool.due, today()) ? 'late' : undefined,
    ],
    [say('tools.column_cycles'), cyclesWords(tool)],
    [say('registers.fact_certificate'), tool.certificate],
    [say('registers.fact_notes'), tool.notes],
  ]
}

/** A description in one line, as the history has it. */
function inShort(tool: TorqueTool): string {
  const { certificate, due, retired } = tool
  return [
    rangeWords(tool),
    knownDeviation(tool)?.value,
    certificate && say('registers.certificate_number', { certificate }),
    due && say('registers.due', { date: dateWords(due) }),
    retired && say('registers.retired'),
  ]
    .filter(Boolean)
    .join(', ')
}
