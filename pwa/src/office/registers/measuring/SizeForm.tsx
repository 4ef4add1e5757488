import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { MATERIALS, type Size } from '../../../trade/measuring/limits.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { Fault } from '../../frame/Say.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import { unitsOf, usualUnit } from './LimitForm.tsx'
import { useStatement } from './useStatement.ts'
import { WhereField } from './WhereField.tsx'

// Sizes that machining and proposals ask for, whatever the procedure itself lists.
const MACHINING = [
  { code: 'nominal', words: 'nominal size' },
  { code: 'steps', words: 'oversize or undersize steps' },
  { code: 'stock', words: 'stock left for boring and honing or grinding, on diameter' },
  { code: 'pistons', words: 'piston steps that can be had' },
  { code: 'target', words: 'target' },
  { code: 'set', words: 'shims that can be had' },
  { code: 'material', words: 'material' },
]

export function newSize(engineType: string, procedures: Procedure[]): Size {
  const procedure = procedures.find(({ sizes }) => sizes.length) ?? procedures[0]!
  const code = procedure.sizes[0]?.code ?? 'nominal'
  const base = { id: '', engine_type: engineType, procedure: procedure.code, code, values: [], unit: 'mm' }
  return { ...base, where: [], source: '', withdrawn: false, note: '' }
}

interface Props {
  type: EngineType
  procedures: Procedure[]
  start: Size
  saved: () => void
  close: () => void
}

/** Sets a size of an engine type: nominal, steps, stock, pistons, shims, material. */
export function SizeForm({ type, procedures, start, saved, close }: Props) {
  const { typed: size, put, wrong, send, said } = useStatement('size', start)
  const [values, setValues] = useState(start.values.join('  '))
  const procedure = procedures.find(({ code }) => code === size.procedure)
  const own = (procedure?.sizes ?? []).map(({ code, words }) => ({ code, words }))
  const codes = [...own, ...MACHINING.filter(({ code }) => !own.some((one) => one.code === code))]
  const asked = procedure?.sizes.find(({ code }) => code === size.code)?.quantity ?? procedure?.quantity ?? ''
  const kind = QUANTITIES.find((one) => one.code === asked)?.kind ?? 'length'
  const material = size.code === 'material'
  const choose = (procedureCode: string, code: string) => {
    setValues('')
    const part = procedureCode === size.procedure ? {} : { where: [] }
    put({ procedure: procedureCode, code, values: [], unit: code === 'material' ? '' : usualUnit(kind), ...part })
  }
  const write = (text: string) => {
    setValues(text)
    put({ values: text.split(/[;\s]+/).filter(Boolean) })
  }
  const keep = async (event: Event) => {
    event.preventDefault()
    if (await send(`/api/engine-types/${type.id}/limits`, { size })) saved()
  }
  return (
    <Sheet title={start.id ? 'Set the size anew' : 'Set a size'} close={close}>
      <form noValidate class="block" onSubmit={keep}>
        <Field
          label="Procedure"
          value={size.procedure}
          onValue={(code) => choose(code, procedures.find((one) => one.code === code)?.sizes[0]?.code ?? 'nominal')}
          options={procedures.map(({ code, name }) => ({ value: code, words: name }))}
        />
        <Field
          label="Size"
          value={size.code}
          onValue={(code) => choose(size.procedure, code)}
          options={codes.map(({ code, words }) => ({ value: code, words }))}
          wrong={wrong('code')}
        />
        {material ? (
          <div class="wide">
            <Field
              label="Material"
              value={size.values[0] ?? ''}
              onValue={(code) => put({ values: code ? [code] : [], unit: '' })}
              options={[
                { value: '', words: 'choose' },
                ...Object.values(MATERIALS).map(({ code, words, alpha }) => ({ value: code, words: `${words}, ${alpha} per million and K` })),
              ]}
              wrong={wrong('values')}
            />
          </div>
        ) : (
          <>
            <Field
              label="Value"
              value={values}
              onValue={write}
              figures
              needed
              hint="Several are parted by spaces: 0.25 0.50 1.00."
              wrong={wrong('values')}
            />
            <Field
              label="Unit"
              value={size.unit}
              onValue={(unit) => put({ unit })}
              options={unitsOf(kind)}
              wrong={wrong('unit')}
            />
          </>
        )}
        <WhereField
          type={type}
          part={procedure?.part ?? ''}
          where={size.where}
          put={(where) => put({ where })}
          wrong={wrong('where')}
        />
        <div class="wide">
          <Field
            label="Source"
            value={size.source}
            onValue={(source) => put({ source })}
            needed
            hint="Whose data, which edition, which page."
            wrong={wrong('source')}
          />
        </div>
        <div class="wide">
          <Field label="Note" value={size.note} onValue={(note) => put({ note })} lines={2} />
        </div>
        {start.id && (
          <label class="tick wide">
            <input
              type="checkbox"
              checked={size.withdrawn}
              onChange={(event) => put({ withdrawn: event.currentTarget.checked })}
            />
            <span>withdrawn: no longer used</span>
          </label>
        )}
        <Fault>{said}</Fault>
        <div class="acts">
          <button class="main-act">{start.id ? 'Set it anew' : 'Set the size'}</button>
        </div>
      </form>
    </Sheet>
  )
}
