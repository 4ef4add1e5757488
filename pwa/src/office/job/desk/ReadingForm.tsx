import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { Refusal } from '../../../trade/ground/errors.ts'
import { QUANTITIES, readQuantity } from '../../../trade/ground/units.ts'
import { MATERIALS } from '../../../trade/measuring/limits.ts'
import { pointWords, quantityOf, readingCodes, type Procedure } from '../../../trade/measuring/procedures.ts'
import { ApiError } from '../../frame/api.ts'
import { KINDS, TYPED } from '../../../trade/record/kinds.ts'
import { DoneNotice, FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'
import { placeName } from '../record/places.ts'
import { job } from '../record/state.ts'
import { basisOf, register, type Register } from './basis.ts'
import { GaugeField } from './GaugeField.tsx'
import { PlaceField } from './PlaceField.tsx'
import { located, placeAtHand, useDesk } from './useDesk.ts'

/** The states a part is measured in, in the words of its kind. */
const STATES = KINDS['measured']!.fields['state']!.of as Record<string, string>

/** A reading from a document or a machine shop, in a procedure's grid or alone. The form stays open for the next reading. */
export function ReadingForm() {
  const [known, setKnown] = useState<Register | null>(null)
  const [trouble, setTrouble] = useState('')
  const engineType = job.value?.engine_type ?? ''
  useEffect(() => {
    register(engineType).then(setKnown, (reason: unknown) => setTrouble(reason instanceof ApiError ? reason.message : String(reason)))
  }, [engineType])
  if (!known) return trouble ? <FaultNotice>{trouble}</FaultNotice> : <p class="soft">{say('desk.opening_gauges')}</p>
  return <Form known={known} engineType={engineType} />
}

const EMPTY = {
  ...{ procedure: '', reading: '', state: 'as_found', quantity: 'diameter', value: '', unit: '', gauge: '', gauge_id: '' },
  ...{ part_temperature: '', gauge_temperature: '', material: '', remark: '' },
  ...TYPED,
}

type Typed = typeof EMPTY

function Form({ known, engineType }: { known: Register; engineType: string }) {
  const [typed, setTyped] = useState(EMPTY)
  const [where, setWhere] = useState(placeAtHand)
  const [wrong, setWrong] = useState('')
  const [done, setDone] = useState('')
  const { fault, setFault, sending, send } = useDesk()
  const put = (news: Partial<Typed>) => {
    setWrong('')
    setDone('')
    setTyped((was) => ({ ...was, ...news }))
  }
  const procedures = known.procedures.map(({ procedure }) => procedure)
  const procedure = procedures.find(({ code }) => code === typed.procedure) ?? null
  const quantity = procedure && typed.reading ? quantityOf(procedure, typed.reading) : typed.quantity
  const units = QUANTITIES.find(({ code }) => code === quantity)?.units ?? []
  const unit = units.includes(typed.unit) ? typed.unit : (units[0] ?? '')
  const save = async (event: Event) => {
    event.preventDefault()
    if (procedure && where.place.split('/')[0] !== procedure.part) return setFault(say('desk.other_part', { procedure: procedure.name }))
    let read
    try {
      read = readQuantity(quantity, typed.value, unit)
    } catch (reason) {
      return setWrong(reason instanceof Refusal ? reason.message : String(reason))
    }
    const point = procedure ? pointWords(procedure, typed.reading) : where.point
    const basis = basisOf(known, engineType, typed.procedure, where.place, typed.gauge_id)
    const body = { ...typed, value: typed.value.trim(), unit: read.unit, quantity, edition: procedure?.edition ?? 0, reading: procedure ? typed.reading : '', basis }
    if (!(await send({ kind: 'measured', location: located({ place: where.place, point }), body, media: [] }))) return
    put({ value: '', remark: '', reading: procedure ? after(procedure, typed.reading) : typed.reading })
    setDone(say('desk.reading_saved', { place: [placeName(where.place), point].filter(Boolean).join(', '), value: body.value, unit: body.unit }))
  }
  return (
    <form noValidate class="block halves" onSubmit={save}>
      <ProcedureFields procedures={procedures} typed={typed} put={put} />
      <PlaceField value={where} put={setWhere} pointless={procedure !== null} />
      <ReadingField procedure={procedure} typed={typed} put={put} />
      <Field label={say('desk.value')} value={typed.value} onValue={(value) => put({ value })} figures keys="decimal" needed wrong={wrong} />
      <Field label={say('common.unit')} value={unit} onValue={(next) => put({ unit: next })} options={units.map((value) => ({ value, words: value || say('desk.no_unit') }))} />
      <GaugeField known={known} chosen={typed.gauge_id} name={typed.gauge} put={put} />
      <Circumstances typed={typed} put={put} />
      <FaultNotice>{fault}</FaultNotice>
      <DoneNotice>{done}</DoneNotice>
      <div class="acts">
        <button class="main-act" disabled={sending}>
          {say('desk.save_reading')}
        </button>
      </div>
    </form>
  )
}

interface FieldsProps {
  typed: Typed
  put: (news: Partial<Typed>) => void
}

/** The procedure, or none, and the state the part was measured in. */
function ProcedureFields({ procedures, typed, put }: FieldsProps & { procedures: Procedure[] }) {
  const choose = (code: string) => {
    const next = procedures.find((procedure) => procedure.code === code)
    put({ procedure: code, reading: next ? (readingCodes(next)[0] ?? '') : '' })
  }
  return (
    <>
      <Field
        label={say('desk.procedure')}
        value={typed.procedure}
        onValue={choose}
        options={[{ value: '', words: say('desk.no_procedure') }, ...procedures.map(({ code, name }) => ({ value: code, words: name }))]}
      />
      <Field
        label={say('desk.state')}
        value={typed.state}
        onValue={(state) => put({ state })}
        options={Object.entries(STATES).map(([value, words]) => ({ value, words }))}
      />
    </>
  )
}

/** Which reading of the procedure, or what is measured where there is none. */
function ReadingField({ procedure, typed, put }: FieldsProps & { procedure: Procedure | null }) {
  if (!procedure)
    return (
      <Field
        label={say('desk.quantity')}
        value={typed.quantity}
        onValue={(code) => put({ quantity: code })}
        options={QUANTITIES.map(({ code, words }) => ({ value: code, words }))}
      />
    )
  return (
    <Field
      label={say('desk.reading')}
      value={typed.reading}
      onValue={(reading) => put({ reading })}
      options={readingCodes(procedure).map((code) => ({ value: code, words: pointWords(procedure, code) }))}
    />
  )
}

/** Temperatures, material and remark: all optional. */
function Circumstances({ typed, put }: FieldsProps) {
  return (
    <>
      <Field
        label={say('desk.part_temperature')}
        value={typed.part_temperature}
        onValue={(text) => put({ part_temperature: text })}
        figures
        hint={say('desk.temperature_example')}
      />
      <Field label={say('desk.gauge_temperature')} value={typed.gauge_temperature} onValue={(text) => put({ gauge_temperature: text })} figures />
      <Field
        label={say('desk.material')}
        value={typed.material}
        onValue={(material) => put({ material })}
        options={[{ value: '', words: say('record.not_given') }, ...Object.values(MATERIALS).map(({ code, words }) => ({ value: code, words }))]}
      />
      <div class="wide">
        <Field label={say('desk.remark')} value={typed.remark} onValue={(remark) => put({ remark })} lines={2} />
      </div>
    </>
  )
}

/** The reading that comes after this one in the procedure; the last one stays. */
export function after(procedure: Procedure, reading: string): string {
  const codes = readingCodes(procedure)
  return codes[codes.indexOf(reading) + 1] ?? reading
}
