import { useState } from 'preact/hooks'
import { JointDrawing, type JointMark } from '../../../parts/joint/JointDrawing.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import type { TighteningStage } from '../../../trade/tightening/stages.ts'
import { say } from '../../frame/say.ts'
import { targetWords } from './wording.ts'
import './phone_view.css'

interface Props {
  sheet: TighteningSheet
  stage: TighteningStage
  fasteners: Fastener[]
}

/** The phone's own drawing of a stage, the next fastener lit. Stepping shows the order at work. */
export function PhoneView({ sheet, stage, fasteners }: Props) {
  const [step, setStep] = useState(0)
  const order = stage.order.filter((label) => fasteners.some((fastener) => fastener.label === label))
  const at = Math.min(step, Math.max(0, order.length - 1))
  const next = order[at]
  return (
    <figure class="phone-view framed above-6">
      <figcaption>{say('tightening.phone_view')}</figcaption>
      <p>
        <b>{sheet.name || say('tightening.no_name')}</b>
        <span class="soft">{stageOf(sheet, stage)}</span>
      </p>
      {stage.after && <p class="caution">{stage.after}</p>}
      <JointDrawing
        fasteners={fasteners}
        title={say('tightening.phone_view')}
        marks={marksAt(order, at)}
        path={order.slice(0, at)}
        onChoose={(label) => order.includes(label) && setStep(order.indexOf(label))}
      />
      <p class="phone-next on-line ends large">
        {next ? (
          <>
            <span class="figure">{next}</span>
            <b>{targetWords(stage)}</b>
          </>
        ) : (
          say('tightening.order_empty')
        )}
      </p>
      <div class="phone-steps ends">
        <button type="button" disabled={at === 0} onClick={() => setStep(at - 1)}>
          {say('tightening.step_back')}
        </button>
        <span class="soft">{say('tightening.step_of', { number: order.length ? at + 1 : 0, total: order.length })}</span>
        <button type="button" disabled={at >= order.length - 1} onClick={() => setStep(at + 1)}>
          {say('tightening.step_next')}
        </button>
      </div>
      {stage.proposed && <p class="caution">{say('tightening.order_not_confirmed')}</p>}
    </figure>
  )
}

/** "stage 1 of 2: Snug" */
function stageOf(sheet: TighteningSheet, stage: TighteningStage): string {
  return say('tightening.stage_of', {
    number: sheet.stages.indexOf(stage) + 1,
    total: sheet.stages.length,
    name: stage.words || say('tightening.no_name'),
  })
}

function marksAt(order: string[], at: number): Record<string, JointMark> {
  const marks: Record<string, JointMark> = {}
  order.forEach((label, i) => {
    if (i < at) marks[label] = { look: 'done', at: i + 1, words: say('tightening.fastener_done') }
    else if (i === at) marks[label] = { look: 'next', at: i + 1, words: say('tightening.fastener_next') }
    else marks[label] = { look: 'open', at: i + 1, words: say('tightening.fastener_number', { number: i + 1 }) }
  })
  return marks
}
