import { Field } from '../../../parts/controls/Field.tsx'
import type { Fault } from '../../../trade/ground/errors.ts'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { loosening, MOST_STAGES, type Method, type TighteningStage } from '../../../trade/tightening/stages.ts'
import { faultsAt } from '../../frame/words.ts'
import { byMethod, nextStage, orderOf, unitsFor } from './form.ts'
import type { Proposed } from './useProposal.ts'

const METHODS: { value: Method; words: string }[] = [
  { value: 'torque', words: 'to a torque' },
  { value: 'angle', words: 'by an angle' },
  { value: 'release', words: 'let go' },
]

interface Props {
  stages: TighteningStage[]
  put: (stages: TighteningStage[]) => void
  faults: Fault[]
  fasteners: Fastener[]
  proposal: Proposed
  /** The stage whose order is drawn. */
  at: number
  turn: (index: number) => void
}

/** The stages in the order in which they are carried out. */
export function StageLines({ stages, put, faults, fasteners, proposal, at, turn }: Props) {
  const set = (index: number, news: Partial<TighteningStage>) =>
    put(stages.map((one, i) => (i === index ? { ...one, ...news } : one)))
  const swap = (index: number, by: number) => {
    const next = [...stages]
    next.splice(index + by, 0, ...next.splice(index, 1))
    put(next)
    turn(index + by)
  }
  return (
    <fieldset class="group">
      <legend>Stages</legend>
      <ol class="lines">
        {stages.map((stage, i) => (
          <li key={stage.code} class={i === at ? 'is-at' : ''} onFocusIn={() => turn(i)}>
            <StageLine
              number={i + 1}
              stage={stage}
              before={stages[i - 1]}
              set={(news) => set(i, news)}
              faults={faults}
              where={`stages.${i}`}
              fasteners={fasteners}
              proposal={proposal}
            />
            <div class="stage-acts" hidden={stages.length === 1}>
              <button type="button" class="plain" disabled={i === 0} onClick={() => swap(i, -1)} aria-label={`Stage ${i + 1} earlier`}>
                earlier
              </button>
              <button
                type="button"
                class="plain"
                disabled={i === stages.length - 1}
                onClick={() => swap(i, 1)}
                aria-label={`Stage ${i + 1} later`}
              >
                later
              </button>
              <button
                type="button"
                class="plain"
                disabled={stages.length === 1}
                onClick={() => {
                  put(stages.filter((_, n) => n !== i))
                  turn(Math.max(0, i - 1))
                }}
                aria-label={`Leave out stage ${i + 1}`}
              >
                leave out
              </button>
            </div>
          </li>
        ))}
      </ol>
      {stages.length < MOST_STAGES && (
        <button
          type="button"
          class="plain"
          onClick={() => {
            put([...stages, nextStage(stages)])
            turn(stages.length)
          }}
        >
          Add a stage
        </button>
      )}
    </fieldset>
  )
}

interface LineProps {
  number: number
  stage: TighteningStage
  before: TighteningStage | undefined
  set: (news: Partial<TighteningStage>) => void
  faults: Fault[]
  where: string
  fasteners: Fastener[]
  proposal: Proposed
}

function StageLine({ number, stage, before, set, faults, where, fasteners, proposal }: LineProps) {
  const wrong = (field: string) => faultsAt(faults, `${where}.${field}`)
  const cell = (field: 'words' | 'target' | 'minus' | 'plus' | 'after', label: string) => ({
    label,
    value: stage[field],
    onValue: (value: string) => set({ [field]: value }),
    wrong: wrong(field),
  })
  const number_ = { figures: true, keys: 'decimal' as const }
  const aim = (target: string) => {
    const usual = unitsFor(stage.method).some(({ value }) => value === stage.unit) ? stage.unit : (byMethod({ ...stage, target }, stage.method).unit)
    set(target === '' && stage.method === 'release' ? { target, unit: '', minus: '', plus: '' } : { target, unit: usual })
  }
  return (
    <fieldset class="stage-line">
      <legend>Stage {number}</legend>
      <div class="row-line">
        <div class="line-long">
          <Field {...cell('words', 'Name')} needed hint={number === 1 ? 'As it is called out: snug, first pass.' : undefined} />
        </div>
        <div>
          <Field
            label="Tightened"
            value={stage.method}
            onValue={(method) => set(byMethod(stage, method as Method))}
            options={METHODS}
            wrong={wrong('method')}
          />
        </div>
        <div class="line-short">
          <Field {...cell('target', 'Target')} {...number_} onValue={aim} />
        </div>
        <div class="line-short">
          <Field
            label="Unit"
            value={stage.unit}
            onValue={(unit) => set({ unit })}
            options={[...(stage.method === 'release' ? [{ value: '', words: 'none' }] : []), ...unitsFor(stage.method)]}
            wrong={wrong('unit')}
          />
        </div>
        <div class="line-short">
          <Field {...cell('minus', 'Permitted below')} {...number_} />
        </div>
        <div class="line-short">
          <Field {...cell('plus', 'Permitted above')} {...number_} />
        </div>
        <div class="line-long">
          <Field {...cell('after', 'What goes before it')} hint="Such as: after warm-up to 80 °C and cooling." />
        </div>
      </div>
      <Order stage={stage} before={before} set={set} wrong={wrong('order')} fasteners={fasteners} proposal={proposal} number={number} />
    </fieldset>
  )
}

type OrderProps = Pick<LineProps, 'stage' | 'before' | 'set' | 'fasteners' | 'number' | 'proposal'> & { wrong: string }

/** The order in which the fasteners follow each other; a proposed one is marked until a person confirms it. */
function Order({ stage, before, set, wrong, fasteners, number, proposal }: OrderProps) {
  const still = fasteners.filter(({ label }) => !stage.order.includes(label)).map(({ label }) => label)
  const propose = () => set({ order: stage.method === 'release' ? proposal.loosening : proposal.order, proposed: true })
  return (
    <div class="stage-order">
      <Field
        label="Order"
        value={stage.order.join(' ')}
        onValue={(text) => set({ order: orderOf(text), proposed: false })}
        figures
        hint={still.length ? `Still to come: ${still.join(' ')}. Type, or touch the bolts in turn in the drawing.` : 'Every fastener once.'}
        wrong={wrong}
      />
      <div class="stage-order-acts">
        <button type="button" onClick={propose} disabled={!proposal.order.length} aria-label={`Propose an order for stage ${number}`}>
          Propose an order
        </button>
        {before && (
          <button
            type="button"
            class="plain"
            onClick={() => set({ order: before.order, proposed: before.proposed })}
            aria-label={`Stage ${number}: as the stage before`}
          >
            as the stage before
          </button>
        )}
        <button
          type="button"
          class="plain"
          onClick={() => set({ order: loosening(stage.order), proposed: stage.proposed })}
          aria-label={`Turn round the order of stage ${number}`}
        >
          turn round
        </button>
        <button type="button" class="plain" onClick={() => set({ order: [], proposed: false })} aria-label={`Empty the order of stage ${number}`}>
          empty
        </button>
        {proposal.trouble && <p class="soft">No order can be proposed now. {proposal.trouble}</p>}
      </div>
      {stage.proposed && (
        <div class="stage-proposed">
          <p class="caution">
            <b>Proposed from the positions{proposal.words && ','}</b>
            {proposal.words && ` ${proposal.words.split('. ')[0]!.toLowerCase()}`}. The maker’s own order goes first.
          </p>
          <button type="button" onClick={() => set({ proposed: false })} aria-label={`Confirm this order, stage ${number}`}>
            Confirm this order
          </button>
        </div>
      )}
    </div>
  )
}
