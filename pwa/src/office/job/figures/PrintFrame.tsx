import type { ComponentChildren } from 'preact'
import { job } from '../record/state.ts'
import { stageWords } from '../../frame/stages.ts'
import { head, me } from '../../frame/session.ts'
import { day, print as inGroups, visit } from '../../frame/words.ts'

interface Props {
  /** What the sheet is called in the title block, and what it is judged by. */
  sheet: string
  rule: string
  children: ComponentChildren
}

const ACROSS = ['1', '2', '3', '4', '5', '6']
const DOWN = ['A', 'B', 'C', 'D']

/**
 * The frame of a drawing sheet round what is printed: borders with reference zones (ISO 5457's habit) and a title block
 * (ISO 7200's) on every page. On the screen only the children are seen.
 */
export function PrintFrame({ sheet, rule, children }: Props) {
  const open = job.value
  const cells: [string, string][] = [
    ['workshop', me.value?.workshop.name ?? ''],
    ['job', open?.number ?? ''],
    ['engine', [open?.engine_type_name, open?.engine_number].filter(Boolean).join(', ')],
    ['visit', open ? visit(open.earlier_visits) : ''],
    ['stage', open ? stageWords(open.stage) : ''],
    ['sheet', sheet],
    ['rule', rule],
    ['printed', `${day(new Date().toISOString())}, ${me.value?.person.name ?? ''}`],
    ['last head', head.value ? `#${head.value.size} ${inGroups(head.value.root).split(' ').slice(0, 2).join(' ')}` : ''],
  ]
  return (
    <div class="print-sheet">
      <div class="print-frame" aria-hidden="true">
        {(['top', 'foot'] as const).map((edge) => (
          <ol key={edge} class={`zones zones-${edge}`}>
            {ACROSS.map((zone) => (
              <li key={zone}>{zone}</li>
            ))}
          </ol>
        ))}
        {(['left', 'right'] as const).map((edge) => (
          <ol key={edge} class={`zones zones-${edge}`}>
            {DOWN.map((zone) => (
              <li key={zone}>{zone}</li>
            ))}
          </ol>
        ))}
        <dl class="print-block">
          {cells.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
        <p class="print-word">What was read and worked out. No certificate of fitness.</p>
      </div>
      <div class="print-room print-head" aria-hidden="true" />
      <div class="print-body">{children}</div>
      <div class="print-room print-foot" aria-hidden="true" />
    </div>
  )
}
