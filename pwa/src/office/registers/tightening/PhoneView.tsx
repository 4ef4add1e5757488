import { useState } from 'preact/hooks'
import { JointDrawing, type JointMark } from '../../../parts/joint/JointDrawing.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import type { TighteningSheet } from '../../../trade/tightening/sheets.ts'
import type { TighteningStage } from '../../../trade/tightening/stages.ts'
import { targetWords } from './said.ts'

interface Props {
  sheet: TighteningSheet
  stage: TighteningStage
  fasteners: Fastener[]
}

/** The phone's own drawing of a stage, the next fastener lit. Stepping shows the order at work. */
export function PhoneView({ sheet, stage, fasteners }: Props) {
  const [step, setStep] = useState(0)
  const order = stage.order.filter((label) => fasteners.some((one) => one.label === label))
  const at = Math.min(step, Math.max(0, order.length - 1))
  const next = order[at]
  const marks: Record<string, JointMark> = {}
  order.forEach((label, i) => {
    const look = i < at ? 'done' : i === at ? 'next' : 'open'
    marks[label] = { look, at: i + 1, words: look === 'open' ? `number ${i + 1}` : look }
  })
  const place = sheet.stages.indexOf(stage) + 1
  return (
    <figure class="phone-view">
      <figcaption>As the phone shows it</figcaption>
      <p>
        <b>{sheet.name || 'no name yet'}</b>
        <span class="soft">
          stage {place} of {sheet.stages.length}: {stage.words || 'no name yet'}
        </span>
      </p>
      {stage.after && <p class="caution">{stage.after}</p>}
      <JointDrawing
        fasteners={fasteners}
        title="As the phone shows it"
        marks={marks}
        path={order.slice(0, at)}
        onChoose={(label) => order.includes(label) && setStep(order.indexOf(label))}
      />
      <p class="phone-next">
        {next ? (
          <>
            <span class="figure">{next}</span>
            <b>{targetWords(stage)}</b>
          </>
        ) : (
          'The order is empty.'
        )}
      </p>
      <div class="phone-steps">
        <button type="button" disabled={at === 0} onClick={() => setStep(at - 1)}>
          one back
        </button>
        <span class="soft">
          {order.length ? at + 1 : 0} of {order.length}
        </span>
        <button type="button" disabled={at >= order.length - 1} onClick={() => setStep(at + 1)}>
          next one
        </button>
      </div>
      {stage.proposed && <p class="caution">order only proposed</p>}
    </figure>
  )
}
