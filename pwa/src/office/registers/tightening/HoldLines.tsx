import { Field } from '../../../parts/controls/Field.tsx'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { STAGES } from '../../../trade/engine/stages.ts'
import type { Hold } from '../../../trade/tightening/sheets.ts'
import { say } from '../../frame/say.ts'
import { faultsAt } from '../form/faults.ts'
import { RemoveButton } from '../form/Group.tsx'
import { withoutAt } from '../form/lists.ts'
import { WhereField } from '../form/WhereField.tsx'

interface Props {
  type: EngineType
  procedures: Procedure[]
  holds: Hold[]
  put: (holds: Hold[]) => void
  faults: FieldFault[]
}

const WITH_CHECKLIST = STAGES.filter(({ checklist }) => checklist.length)
const itemsOf = (stage: string) => WITH_CHECKLIST.find(({ code }) => code === stage)?.checklist ?? []

const newMeasured = (procedures: Procedure[]): Hold => ({
  ...{ sort: 'measured', procedure: procedures[0]?.code ?? '', figure: procedures[0]?.figures[0]?.code ?? '', where: [] },
})
const newTicked = (): Hold => ({ sort: 'ticked', stage: WITH_CHECKLIST[0]!.code, item: WITH_CHECKLIST[0]!.checklist[0]!.item })

/** What must be done before a joint may be closed: figures within limits, items of a checklist. */
export function HoldLines({ type, procedures, holds, put, faults }: Props) {
  const set = (index: number, hold: Hold) => put(holds.map((before, i) => (i === index ? hold : before)))
  return (
    <fieldset class="group">
      <legend class="bold">{say('tightening.conditions')}</legend>
      <p class="soft small">{say('tightening.conditions_hint')}</p>
      {holds.map((hold, i) => {
        const shared = { set: (changed: Hold) => set(i, changed), wrong: faultsAt(faults, `holds.${i}`) }
        return (
          <div class="row-line hold-line" key={i}>
            {hold.sort === 'measured' ? (
              <MeasuredHold type={type} procedures={procedures} hold={hold} {...shared} />
            ) : (
              <TickedHold hold={hold} {...shared} />
            )}
            <RemoveButton label={say('tightening.remove_condition', { number: i + 1 })} onRemove={() => put(withoutAt(holds, i))} />
          </div>
        )
      })}
      <div class="stage-acts along wrapped">
        <button type="button" class="plain" disabled={!procedures.length} onClick={() => put([...holds, newMeasured(procedures)])}>
          {say('tightening.add_figure_condition')}
        </button>
        <button type="button" class="plain" onClick={() => put([...holds, newTicked()])}>
          {say('tightening.add_checklist_condition')}
        </button>
      </div>
    </fieldset>
  )
}

interface HoldProps<Sort extends Hold['sort']> {
  hold: Extract<Hold, { sort: Sort }>
  set: (hold: Hold) => void
  wrong: string
}

function TickedHold({ hold, set, wrong }: HoldProps<'ticked'>) {
  return (
    <>
      <Field
        label={say('tightening.ticked_at_stage')}
        value={hold.stage}
        onValue={(stage) => set({ ...hold, stage, item: itemsOf(stage)[0]!.item })}
        options={WITH_CHECKLIST.map(({ code, words }) => ({ value: code, words }))}
        wrong={wrong}
      />
      <Field
        label={say('tightening.checklist_item')}
        value={hold.item}
        onValue={(item) => set({ ...hold, item })}
        options={itemsOf(hold.stage).map(({ item, words }) => ({ value: item, words }))}
      />
    </>
  )
}

function MeasuredHold({ type, procedures, hold, set, wrong }: HoldProps<'measured'> & Pick<Props, 'type' | 'procedures'>) {
  const procedureOf = (wanted: string) => procedures.find(({ code }) => code === wanted)
  const procedure = procedureOf(hold.procedure)
  return (
    <>
      <Field
        label={say('tightening.measured_by')}
        value={hold.procedure}
        onValue={(code) => set({ ...hold, procedure: code, figure: procedureOf(code)?.figures[0]?.code ?? '', where: [] })}
        options={procedures.map(({ code, name }) => ({ value: code, words: name }))}
        wrong={wrong}
      />
      <Field
        label={say('tightening.figure_within_limits')}
        value={hold.figure}
        onValue={(figure) => set({ ...hold, figure })}
        options={(procedure?.figures ?? []).map(({ code, words }) => ({ value: code, words }))}
      />
      <WhereField type={type} part={procedure?.part ?? ''} where={hold.where} put={(where) => set({ ...hold, where })} wrong="" />
    </>
  )
}
