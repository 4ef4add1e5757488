import { Field } from '../../../parts/controls/Field.tsx'
import type { Fault } from '../../../trade/ground/errors.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { STAGES } from '../../../trade/engine/stages.ts'
import type { Hold } from '../../../trade/tightening/sheets.ts'
import { WhereField } from '../measuring/WhereField.tsx'
import { faultsAt } from '../../frame/words.ts'

interface Props {
  type: EngineType
  procedures: Procedure[]
  holds: Hold[]
  put: (holds: Hold[]) => void
  faults: Fault[]
}

/** What must be done before a joint may be closed: figures within limits, items of a checklist. */
export function HoldLines({ type, procedures, holds, put, faults }: Props) {
  const set = (index: number, hold: Hold) => put(holds.map((one, i) => (i === index ? hold : one)))
  const withItems = STAGES.filter(({ checklist }) => checklist.length)
  const measured = (): Hold => ({
    ...{ sort: 'measured', procedure: procedures[0]?.code ?? '', figure: procedures[0]?.figures[0]?.code ?? '', where: [] },
  })
  const ticked = (): Hold => ({ sort: 'ticked', stage: withItems[0]!.code, item: withItems[0]!.checklist[0]!.item })
  return (
    <fieldset class="group">
      <legend>Waits on</legend>
      <p class="soft small">Until these are met the sheet cannot be closed, and the phone says which is missing.</p>
      {holds.map((hold, i) => (
        <div class="row-line hold-line" key={i}>
          {hold.sort === 'measured' ? (
            <MeasuredHold type={type} procedures={procedures} hold={hold} set={(one) => set(i, one)} wrong={faultsAt(faults, `holds.${i}`)} />
          ) : (
            <>
              <Field
                label="Ticked at stage"
                value={hold.stage}
                onValue={(stage) => set(i, { ...hold, stage, item: withItems.find(({ code }) => code === stage)!.checklist[0]!.item })}
                options={withItems.map(({ code, words }) => ({ value: code, words }))}
                wrong={faultsAt(faults, `holds.${i}`)}
              />
              <Field
                label="Item"
                value={hold.item}
                onValue={(item) => set(i, { ...hold, item })}
                options={(withItems.find(({ code }) => code === hold.stage)?.checklist ?? []).map(({ item, words }) => ({ value: item, words }))}
              />
            </>
          )}
          <button type="button" class="plain line-out" onClick={() => put(holds.filter((_, n) => n !== i))} aria-label={`Leave out condition ${i + 1}`}>
            leave out
          </button>
        </div>
      ))}
      <div class="stage-acts">
        <button type="button" class="plain" disabled={!procedures.length} onClick={() => put([...holds, measured()])}>
          Wait on a figure within limits
        </button>
        <button type="button" class="plain" onClick={() => put([...holds, ticked()])}>
          Wait on an item of a checklist
        </button>
      </div>
    </fieldset>
  )
}

interface MeasuredProps {
  type: EngineType
  procedures: Procedure[]
  hold: Extract<Hold, { sort: 'measured' }>
  set: (hold: Hold) => void
  wrong: string
}

function MeasuredHold({ type, procedures, hold, set, wrong }: MeasuredProps) {
  const procedure = procedures.find(({ code }) => code === hold.procedure)
  return (
    <>
      <Field
        label="Measured by"
        value={hold.procedure}
        onValue={(code) => set({ ...hold, procedure: code, figure: procedures.find((one) => one.code === code)?.figures[0]?.code ?? '', where: [] })}
        options={procedures.map(({ code, name }) => ({ value: code, words: name }))}
        wrong={wrong}
      />
      <Field
        label="Within limits"
        value={hold.figure}
        onValue={(figure) => set({ ...hold, figure })}
        options={(procedure?.figures ?? []).map(({ code, words }) => ({ value: code, words }))}
      />
      <WhereField type={type} part={procedure?.part ?? ''} where={hold.where} put={(where) => set({ ...hold, where })} wrong="" />
    </>
  )
}
