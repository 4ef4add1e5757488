import { Field } from '../../../parts/controls/Field.tsx'
import { SORTS, type Limit } from '../../../trade/measuring/limits.ts'
import type { EngineType } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import { UNITS } from '../../../trade/ground/units.ts'
import { Fault } from '../../frame/Say.tsx'
import { Sheet } from '../../frame/Sheet.tsx'
import { useStatement } from './useStatement.ts'
import { WhereField } from './WhereField.tsx'

export function newLimit(engineType: string, procedures: Procedure[]): Limit {
  const procedure = procedures[0]!
  const figure = procedure.figures[0]
  return {
    ...{ id: '', engine_type: engineType, procedure: procedure.code, figure: figure?.code ?? '', sort: 'service' as const },
    ...{ low: '', high: '', unit: usualUnit(figure?.kind ?? 'length'), where: [], source: '' },
    ...{ valid_from: '', valid_until: '', withdrawn: false, note: '' },
  }
}

const USUAL: Record<string, string> = { length: 'mm', pressure: 'bar', volume: 'cm³', share: '%', number: '', angle: '°' }

export function unitsOf(kind: string): { value: string; words: string }[] {
  return Object.entries(UNITS)
    .filter(([, unit]) => unit.kind === kind)
    .map(([value, { words }]) => ({ value, words: value ? `${value}, ${words}` : 'a plain number' }))
}

export function usualUnit(kind: string): string {
  return USUAL[kind] ?? unitsOf(kind)[0]?.value ?? ''
}

interface Props {
  type: EngineType
  procedures: Procedure[]
  start: Limit
  saved: () => void
  close: () => void
}

/** Sets a limit, new or anew. Without its source it is not taken. */
export function LimitForm({ type, procedures, start, saved, close }: Props) {
  const { typed: limit, put, wrong, send, said } = useStatement('limit', start)
  const procedure = procedures.find(({ code }) => code === limit.procedure)
  const kind = procedure?.figures.find(({ code }) => code === limit.figure)?.kind ?? 'length'
  const choose = (code: string, figure = procedures.find((one) => one.code === code)?.figures[0]?.code ?? '') => {
    const line = procedures.find((one) => one.code === code)?.figures.find((one) => one.code === figure)
    const unit = line && UNITS[limit.unit]?.kind === line.kind ? limit.unit : usualUnit(line?.kind ?? 'length')
    put({ procedure: code, figure, unit, ...(code !== limit.procedure && { where: [] }) })
  }
  const keep = async (event: Event) => {
    event.preventDefault()
    if (await send(`/api/engine-types/${type.id}/limits`, { limit })) saved()
  }
  const cell = (field: 'low' | 'high' | 'source' | 'valid_from' | 'valid_until' | 'note' | 'unit', label: string) => ({
    label,
    value: limit[field],
    onValue: (value: string) => put({ [field]: value }),
    wrong: wrong(field),
  })
  return (
    <Sheet title={start.id ? 'Set the limit anew' : 'Set a limit'} close={close}>
      <form noValidate class="block" onSubmit={keep}>
        <Field
          label="Procedure"
          value={limit.procedure}
          onValue={(code) => choose(code)}
          options={procedures.map(({ code, name }) => ({ value: code, words: name }))}
        />
        <Field
          label="Figure"
          value={limit.figure}
          onValue={(figure) => choose(limit.procedure, figure)}
          options={(procedure?.figures ?? []).map(({ code, words }) => ({ value: code, words }))}
          wrong={wrong('figure')}
        />
        <Field
          label="Sort"
          value={limit.sort}
          onValue={(sort) => put({ sort: sort as Limit['sort'] })}
          options={Object.entries(SORTS).map(([value, words]) => ({ value, words }))}
        />
        <Field {...cell('unit', 'Unit')} options={unitsOf(kind)} />
        <Field {...cell('low', 'At least')} figures keys="decimal" hint="Empty: no lower end." />
        <Field {...cell('high', 'At most')} figures keys="decimal" hint="Empty: no upper end." />
        <WhereField
          type={type}
          part={procedure?.part ?? ''}
          where={limit.where}
          put={(where) => put({ where })}
          wrong={wrong('where')}
        />
        <div class="wide">
          <Field
            {...cell('source', 'Source')}
            needed
            hint="Whose data, which edition, which page: it is shown beside every verdict."
          />
        </div>
        <Field {...cell('valid_from', 'Counts from')} date />
        <Field {...cell('valid_until', 'Counts until')} date />
        <div class="wide">
          <Field {...cell('note', 'Note')} lines={2} />
        </div>
        {start.id && (
          <label class="tick wide">
            <input
              type="checkbox"
              checked={limit.withdrawn}
              onChange={(event) => put({ withdrawn: event.currentTarget.checked })}
            />
            <span>withdrawn: judges nothing any more</span>
          </label>
        )}
        <Fault>{said}</Fault>
        <div class="acts">
          <button class="main-act">{start.id ? 'Set it anew' : 'Set the limit'}</button>
        </div>
      </form>
    </Sheet>
  )
}
