import type { ComponentChildren } from 'preact'
import { job } from '../record/state.ts'
import { stageWords } from '../../frame/stages.ts'
import { head, me } from '../../frame/session.ts'
import { day, print as inGroups, visit } from '../../frame/words.ts'
import { say } from '../../frame/say.ts'
import './print_frame.css'

interface Props {
  /** Name of the sheet in the title block, and what it is judged by. */
  sheet: string
  rule: string
  children: ComponentChildren
}

const ACROSS = ['1', '2', '3', '4', '5', '6']
const DOWN = ['A', 'B', 'C', 'D']

/**
 * The frame of a drawing sheet round what is printed: borders with reference zones as in ISO 5457 and a title block as in
 * ISO 7200 on every page. On the screen only the children are seen.
 */
export function PrintFrame({ sheet, rule, children }: Props) {
  const open = job.value
  const cells: [string, string][] = [
    [say('figures.print_workshop'), me.value?.workshop.name ?? ''],
    [say('figures.print_job'), open?.number ?? ''],
    [say('figures.print_engine'), [open?.engine_type_name, open?.engine_number].filter(Boolean).join(', ')],
    [say('figures.print_visit'), open ? visit(open.earlier_visits) : ''],
    [say('figures.print_stage'), open ? stageWords(open.stage) : ''],
    [say('figures.print_sheet'), sheet],
    [say('figures.print_rule'), rule],
    [say('figures.print_printed'), `${day(new Date().toISOString())}, ${me.value?.person.name ?? ''}`],
    [say('figures.print_head'), head.value ? `#${head.value.size} ${inGroups(head.value.root).split(' ').slice(0, 2).join(' ')}` : ''],
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
        <p class="print-word">{say('figures.print_note')}</p>
      </div>
      <div class="print-room print-head" aria-hidden="true" />
      <div class="print-body">{children}</div>
      <div class="print-room print-foot" aria-hidden="true" />
    </div>
  )
}
