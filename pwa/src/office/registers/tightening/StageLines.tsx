import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { MOST_STAGES, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { say } from '../../frame/say.ts'
import { faultsAt, faultsOnlyAt } from '../form/faults.ts'
import { changedAt, withoutAt } from '../form/lists.ts'
import { nextStage } from './form.ts'
import { StageFields, type StageProps } from './StageFields.tsx'
import { StageOrder } from './StageOrder.tsx'
import type { Proposal } from './useProposal.ts'

interface Props {
  stages: TighteningStage[]
  put: (stages: TighteningStage[]) => void
  faults: FieldFault[]
  fasteners: Fastener[]
  proposal: Proposal
  /** The stage whose order is drawn. */
  at: number
  show: (index: number) => void
}

/** The stages in the order in which they are carried out. */
export function StageLines({ stages, put, faults, fasteners, proposal, at, show }: Props) {
  const swap = (index: number, by: number) => {
    const next = [...stages]
    next.splice(index + by, 0, ...next.splice(index, 1))
    put(next)
    show(index + by)
  }
  const remove = (index: number) => {
    put(withoutAt(stages, index))
    show(Math.max(0, index - 1))
  }
  const add = () => {
    put([...stages, nextStage(stages)])
    show(stages.length)
  }
  return (
    <>
      <fieldset class="group">
        <legend class="bold">{say('tightening.stages')}</legend>
        <ol class="lines">
          {stages.map((stage, i) => (
            <li key={stage.code} class={i === at ? 'is-at' : ''} onFocusIn={() => show(i)}>
              <StageLine
                number={i + 1}
                stage={stage}
                before={stages[i - 1]}
                set={(changes) => put(changedAt(stages, i, changes))}
                wrong={(field) => faultsAt(faults, `stages.${i}.${field}`)}
                fasteners={fasteners}
                proposal={proposal}
              />
              <StageActs number={i + 1} of={stages.length} move={(by) => swap(i, by)} remove={() => remove(i)} />
            </li>
          ))}
        </ol>
        {stages.length < MOST_STAGES && (
          <button type="button" class="plain" onClick={add}>
            {say('tightening.add_stage')}
          </button>
        )}
      </fieldset>
      <StagesFault faults={faults} />
    </>
  )
}

/** What is wrong with the stages as a whole. */
function StagesFault({ faults }: { faults: FieldFault[] }) {
  const message = faultsOnlyAt(faults, 'stages')
  return message ? <p class="field-wrong">{message}</p> : null
}

interface LineProps extends StageProps {
  before: TighteningStage | undefined
  fasteners: Fastener[]
  proposal: Proposal
}

function StageLine({ before, fasteners, proposal, ...shared }: LineProps) {
  return (
    <fieldset class="stage-line">
      <legend class="bold">{say('tightening.stage_number', { number: shared.number })}</legend>
      <StageFields {...shared} />
      <StageOrder {...shared} before={before} fasteners={fasteners} proposal={proposal} />
    </fieldset>
  )
}

interface ActsProps {
  number: number
  of: number
  move: (by: number) => void
  remove: () => void
}

function StageActs({ number, of, move, remove }: ActsProps) {
  return (
    <div class="stage-acts along wrapped" hidden={of === 1}>
      <button type="button" class="plain" disabled={number === 1} onClick={() => move(-1)} aria-label={say('tightening.stage_earlier', { number })}>
        {say('tightening.earlier')}
      </button>
      <button type="button" class="plain" disabled={number === of} onClick={() => move(1)} aria-label={say('tightening.stage_later', { number })}>
        {say('tightening.later')}
      </button>
      <button type="button" class="plain" disabled={of === 1} onClick={remove} aria-label={say('tightening.remove_stage', { number })}>
        {say('common.remove')}
      </button>
    </div>
  )
}
