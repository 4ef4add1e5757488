import { Field } from '../../../parts/controls/Field.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { loosening, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { say } from '../../frame/say.ts'
import { orderOf } from './form.ts'
import type { StageProps } from './StageFields.tsx'
import type { Proposal } from './useProposal.ts'

interface Props extends StageProps {
  before: TighteningStage | undefined
  fasteners: Fastener[]
  proposal: Proposal
}

/** The order of the fasteners in a stage; a proposed one is marked until a person confirms it. */
export function StageOrder(props: Props) {
  const { number, stage, set, wrong, fasteners, proposal } = props
  const missing = fasteners.flatMap(({ label }) => (stage.order.includes(label) ? [] : [label]))
  return (
    <div class="stage-order above-4">
      <Field
        label={say('tightening.order')}
        value={stage.order.join(' ')}
        onValue={(text) => set({ order: orderOf(text), proposed: false })}
        figures
        hint={missing.length ? say('tightening.order_missing', { fasteners: missing.join(' ') }) : say('tightening.order_complete')}
        wrong={wrong('order')}
      />
      <OrderActs {...props} />
      {stage.proposed && (
        <div class="stage-proposed noted along wrapped above-4">
          <p class="caution">
            <b>{say('tightening.proposed_order')}</b> {proposal.words && `${proposal.words.split('. ')[0]}. `}
            {say('tightening.maker_order_first')}
          </p>
          <button type="button" onClick={() => set({ proposed: false })} aria-label={say('tightening.confirm_order_stage', { number })}>
            {say('tightening.confirm_order')}
          </button>
        </div>
      )}
    </div>
  )
}

function OrderActs({ number, stage, before, set, proposal }: Props) {
  const propose = () => set({ order: stage.method === 'release' ? proposal.loosening : proposal.order, proposed: true })
  return (
    <div class="stage-order-acts along wrapped above-2">
      <button type="button" onClick={propose} disabled={!proposal.order.length} aria-label={say('tightening.propose_order_stage', { number })}>
        {say('tightening.propose_order')}
      </button>
      {before && (
        <button
          type="button"
          class="plain"
          onClick={() => set({ order: before.order, proposed: before.proposed })}
          aria-label={say('tightening.copy_order_stage', { number })}
        >
          {say('tightening.copy_order')}
        </button>
      )}
      <button
        type="button"
        class="plain"
        onClick={() => set({ order: loosening(stage.order), proposed: stage.proposed })}
        aria-label={say('tightening.reverse_order_stage', { number })}
      >
        {say('tightening.reverse_order')}
      </button>
      <button
        type="button"
        class="plain"
        onClick={() => set({ order: [], proposed: false })}
        aria-label={say('tightening.clear_order_stage', { number })}
      >
        {say('tightening.clear_order')}
      </button>
      {proposal.error && <p class="soft">{say('tightening.no_proposal', { reason: proposal.error })}</p>}
    </div>
  )
}
