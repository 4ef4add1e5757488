import { Choice } from '../../../parts/controls/Field.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import { say } from '../../frame/say.ts'
import { JointPlan } from './JointPlan.tsx'
import { orderMarks } from './marks.ts'
import { PhoneView } from './PhoneView.tsx'

interface Props {
  sheet: TighteningSheet
  /** The stage that is drawn. */
  at: number
  show: (index: number) => void
  fasteners: Fastener[]
  /** A touch of a fastener, where the order can be changed. */
  touch?: (label: string) => void
}

/** The joint with the order of one stage, and the same stage as the phone shows it. */
export function OrderPreview({ sheet, at, show, fasteners, touch }: Props) {
  const index = sheet.stages[at] ? at : 0
  const stage = sheet.stages[index]!
  const nameOf = (words: string, i: number) => words || say('tightening.stage_number', { number: i + 1 })
  return (
    <>
      <Choice
        label={say('tightening.drawn_stage')}
        options={sheet.stages.map(({ words }, i) => ({ value: String(i), words: nameOf(words, i) }))}
        chosen={[String(index)]}
        onChoose={(value) => show(Number(value))}
      />
      {fasteners.length > 0 ? (
        <>
          <JointPlan
            fasteners={fasteners}
            title={say('tightening.order_of', { stage: nameOf(stage.words, index) })}
            marks={orderMarks(stage.order)}
            path={stage.order}
            {...(touch && { choose: touch })}
          />
          <p class="soft small">{touch ? say('tightening.touch_help') : say('tightening.number_under_bolt')}</p>
          {stage.proposed && !touch && <p class="caution">{say('tightening.order_not_confirmed')}</p>}
          <PhoneView sheet={sheet} stage={stage} fasteners={fasteners} />
        </>
      ) : (
        <p class="empty">{say('tightening.no_fasteners')}</p>
      )}
    </>
  )
}
