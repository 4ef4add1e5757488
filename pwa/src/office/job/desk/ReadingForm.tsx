import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { Refusal } from '../../../trade/ground/errors.ts'
import { TYPED } from '../../../trade/record/kinds.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { pointWords, quantityOf, readingCodes, type Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES, readQuantity } from '../../../trade/ground/units.ts'
import { ApiError } from '../../frame/api.ts'
import { Done, Fault } from '../../frame/Say.tsx'
import { dueWords, today } from '../../registers/measuring/dates.ts'
import { placeName } from '../record/places.ts'
import { job } from '../record/state.ts'
import { basisOf, register, type Register } from './basis.ts'
import { PlaceField } from './PlaceField.tsx'
import { located, placeAtHand, useDesk } from './useDesk.ts'

export const STATES = { as_found: 'as found', machined: 'after machining', built: 'as built' }

/** A reading from a paper or a machine shop: in a procedure's grid or for itself. The sheet stays open for the next one. */
export function ReadingForm() {
  const [of, setOf] = useState<Register | null>(null)
  const [trouble, setTrouble] = useState('')
  const engineType = job.value?.engine_type ?? ''
  useEffect(() => {
    register(engineType).then(setOf, (reason: unknown) => setTrouble(reason instanceof ApiError ? reason.message : String(reason)))
  }, [engineType])
  if (!of) return trouble ? <Fault>{trouble}</Fault> : <p class="soft">Opening the register of gauges.</p>
  return <Form of={of} engineType={engineType} />
}

const EMPTY = {
  ...{ procedure: '', reading: '', state: 'as_found', quantity: 'diameter', value: '', unit: '', gauge: '', gauge_id: '' },
  ...{ part_temperature: '', gauge_temperature: '', material: '', remark: '' },
  ...TYPED,
}

function Form({ of, engineType }: { of: Register; engineType: string }) {
  const [typed, setTyped] = useState(EMPTY)
  const [where, setWhere] = useState(placeAtHand)
  const [wrong, setWrong] = useState('')
  const [done, setDone] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const put = (news: Partial<typeof EMPTY>) => {
    setWrong('')
    setDone('')
    setTyped((was) => ({ ...was, ...news }))
  }
  const procedures = of.procedures.map(({ procedure }) => procedure)
  const procedure = procedures.find(({ code }) => code === typed.procedure) ?? null
  const quantity = procedure && typed.reading ? quantityOf(procedure, typed.reading) : typed.quantity
  const units = QUANTITIES.find(({ code }) => code === quantity)?.units ?? []
  const unit = units.includes(typed.unit) ? typed.unit : (units[0] ?? '')
  const keep = async (event: Event) => {
    event.preventDefault()
    if (procedure && where.place.split('/')[0] !== procedure.part)
      return setFault(`‘${procedure.name}’ is read at another part. Choose its place first.`)
    let read
    try {
      read = readQuantity(quantity, typed.value, unit)
    } catch (reason) {
      return setWrong(reason instanceof Refusal ? reason.message : String(reason))
    }
    const point = procedure ? pointWords(procedure, typed.reading) : where.point
    const body = {
      ...typed,
      value: typed.value.trim(),
      unit: read.unit,
      quantity,
      edition: procedure?.edition ?? 0,
      reading: procedure ? typed.reading : '',
      basis: basisOf(of, engineType, typed.procedure, where.place, typed.gauge_id),
    }
    if (!(await send({ kind: 'measured', location: located({ place: where.place, point }), body, media: [] }))) return
    const next = procedure ? after(procedure, typed.reading) : typed.reading
    put({ value: '', remark: '', reading: next })
    setDone(`Added: ${[placeName(where.place), point].filter(Boolean).join(', ')}, ${body.value} ${body.unit}.`)
  }
  return (
    <form noValidate class="block" onSubmit={keep}>
      <Field
        label="Procedure"
        value={typed.procedure}
        onValue={(code) => {
          const next = procedures.find((one) => one.code === code)
          put({ procedure: code, reading: next ? (readingCodes(next)[0] ?? '') : '' })
        }}
        options={[{ value: '', words: 'none, a single reading' }, ...procedures.map(({ code, name }) => ({ value: code, words: name }))]}
      />
      <Field
        label="State"
        value={typed.state}
        onValue={(state) => put({ state })}
        options={Object.entries(STATES).map(([value, words]) => ({ value, words }))}
      />
      <PlaceField value={where} put={setWhere} pointless={procedure !== null} />
      {procedure ? (
        <Field
          label="Reading"
          value={typed.reading}
          onValue={(reading) => put({ reading })}
          options={readingCodes(procedure).map((code) => ({ value: code, words: pointWords(procedure, code) }))}
        />
      ) : (
        <Field
          label="Quantity"
          value={typed.quantity}
          onValue={(code) => put({ quantity: code })}
          options={QUANTITIES.map(({ code, words }) => ({ value: code, words }))}
        />
      )}
      <Field label="Value" value={typed.value} onValue={(value) => put({ value })} figures keys="decimal" needed wrong={wrong} />
      <Field label="Unit" value={unit} onValue={(next) => put({ unit: next })} options={units.map((value) => ({ value, words: value || 'none' }))} />
      <GaugeField of={of} typed={typed} put={put} />
      <Field label="Part at" value={typed.part_temperature} onValue={(text) => put({ part_temperature: text })} figures hint="24.5 °C" />
      <Field label="Gauge at" value={typed.gauge_temperature} onValue={(text) => put({ gauge_temperature: text })} figures />
      <Field
        label="Material"
        value={typed.material}
        onValue={(material) => put({ material })}
        options={[{ value: '', words: 'not said' }, ...Object.values(MATERIALS).map(({ code, words }) => ({ value: code, words }))]}
      />
      <div class="wide">
        <Field label="Remark" value={typed.remark} onValue={(remark) => put({ remark })} lines={2} />
      </div>
      <Fault>{fault}</Fault>
      <Done>{done}</Done>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          Add the reading
        </button>
      </div>
    </form>
  )
}

/** The reading that comes after this one in the procedure; the last one stays. */
export function after(procedure: Procedure, reading: string): string {
  const codes = readingCodes(procedure)
  return codes[codes.indexOf(reading) + 1] ?? reading
}

const ANOTHER = 'another'

interface GaugeProps {
  of: Register
  typed: typeof EMPTY
  put: (news: Partial<typeof EMPTY>) => void
}

/** A gauge of the register, or another by its name: then nothing can be said of its uncertainty. */
function GaugeField({ of, typed, put }: GaugeProps) {
  const [another, setAnother] = useState(false)
  const chosen = of.gauges.find(({ id }) => id === typed.gauge_id)
  const late = chosen && dueWords(chosen.due, today()).startsWith('overdue') ? dueWords(chosen.due, today()) : ''
  return (
    <>
      <Field
        label="Gauge"
        value={another ? ANOTHER : typed.gauge_id}
        onValue={(id) => {
          setAnother(id === ANOTHER)
          put({ gauge_id: id === ANOTHER ? '' : id, gauge: of.gauges.find((one) => one.id === id)?.name ?? '' })
        }}
        options={[
          { value: '', words: 'not said' },
          ...of.gauges.filter(({ retired }) => !retired).map(({ id, name }) => ({ value: id, words: name })),
          { value: ANOTHER, words: 'one that is not in the register' },
        ]}
        hint={late ? `${late}: the figure will say so` : undefined}
      />
      {another && (
        <Field
          label="Its name"
          value={typed.gauge}
          onValue={(gauge) => put({ gauge })}
          hint="Not in the register: its uncertainty is unknown, so nothing can be proven with it."
        />
      )}
    </>
  )
}
