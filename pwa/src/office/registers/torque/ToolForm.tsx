import { Field } from '../../../parts/controls/Field.tsx'
import { CYCLES_MOST, SORTS, type TorqueTool } from '../../../trade/tightening/tools.ts'
import { Fault as Say } from '../../frame/Say.tsx'
import { type Apart, useStatement } from '../measuring/useStatement.ts'
import { go } from '../../frame/route.ts'
import { classesFor, deviationWords, unitsFor, usedWords } from './words.ts'

/** A torque tool not described yet. */
export function newTool(): TorqueTool {
  return {
    ...{ id: '', name: '', sort: 'click', serial: '', unit: 'N·m', low: '', high: '', class: '', deviation: '' },
    ...{ calibrated: '', due: '', cycles_most: CYCLES_MOST, cycles_at_calibration: 0, certificate: '', retired: false, notes: '' },
  }
}

/** A name that is not written yet hides nothing else. */
const nameApart: Apart<TorqueTool> = (tool) =>
  tool.name ? [tool, []] : [{ ...tool, name: 'x' }, [{ where: 'name', message: 'The name is empty.' }]]

/** Puts a torque tool into the register or describes it anew; what cannot be is said beside its field. */
export function ToolForm({ start, saved }: { start: TorqueTool; saved: (id: string) => void }) {
  const { typed: tool, put, wrong, send, said, sound } = useStatement('torque_tool', start, nameApart)
  const keep = async (event: Event) => {
    event.preventDefault()
    const told = await send<{ tool: TorqueTool }>('/api/torque-tools', { tool })
    if (told) saved(told.tool.id)
  }
  const cell = (name: Exclude<keyof TorqueTool, 'retired' | 'id' | 'cycles_most' | 'cycles_at_calibration'>, label: string) => ({
    label,
    value: tool[name],
    onValue: (value: string) => put({ [name]: value }),
    wrong: wrong(name),
  })
  const whole = (name: 'cycles_most' | 'cycles_at_calibration', label: string) => ({
    label,
    value: String(tool[name]),
    // What is no whole number is handed on as it is, so that the check can name it.
    onValue: (text: string) => put({ [name]: /^\d+$/.test(text.trim()) ? Number(text) : text }),
    wrong: wrong(name),
    figures: true,
    keys: 'numeric' as const,
  })
  const choose = (sort: string) => {
    const units = unitsFor(sort).map(({ value }) => value)
    const fits = classesFor(sort).some(({ value }) => value === tool.class)
    put({ sort, unit: units.includes(tool.unit) ? tool.unit : (units.find((unit) => unit === '°') ?? units[0] ?? ''), ...(!fits && { class: '' }) })
  }
  const [permitted, from] = sound ? deviationWords({ ...tool, deviation: '' }) : ['', '']
  return (
    <section class="page narrow-page" aria-labelledby="tool-form-title">
      <header class="page-head">
        <h1 id="tool-form-title">{start.id ? `Describe anew: ${start.name}` : 'New torque tool'}</h1>
      </header>
      {start.id && (
        <p class="page-words">
          Earlier descriptions stay in the log. What was tightened keeps the description it was tightened with.
        </p>
      )}
      <form noValidate class="block" onSubmit={keep}>
        <Field {...cell('name', 'Name')} needed hint="As it is called for at the bench: click wrench 2." />
        <Field
          {...cell('sort', 'Sort')}
          options={Object.values(SORTS).map(({ code, words }) => ({ value: code, words }))}
          onValue={choose}
        />
        <Field {...cell('serial', 'Serial number')} figures />
        <Field {...cell('unit', 'Goes by')} options={unitsFor(tool.sort)} />
        <Field {...cell('low', 'Range from')} figures keys="decimal" />
        <Field {...cell('high', 'Range to')} figures keys="decimal" hint={(sound && usedWords(tool)) || undefined} needed={tool.sort === 'click'} />
        <Field {...cell('class', 'Class of ISO 6789-1')} options={classesFor(tool.sort)} />
        <Field
          {...cell('deviation', 'Permissible deviation, per cent')}
          figures
          keys="decimal"
          hint={permitted && permitted !== 'not known' ? `Empty: ${permitted}, ${from}.` : 'Plus and minus, of the value.'}
        />
        <Field {...cell('calibrated', 'Calibrated on')} date />
        <Field {...cell('due', 'Next due')} date hint="After that day every fastener it tightens says so." />
        <Field {...whole('cycles_most', 'Calibrated anew after how many fasteners')} hint="0: they are not counted. 5000 or twelve months is usual." />
        <Field {...whole('cycles_at_calibration', 'Counted at calibration')} hint="How many the record had by then." />
        <div class="wide">
          <Field {...cell('certificate', 'Certificate')} />
        </div>
        <div class="wide">
          <Field {...cell('notes', 'Notes')} lines={2} />
        </div>
        <label class="tick wide">
          <input type="checkbox" checked={tool.retired} onChange={(event) => put({ retired: event.currentTarget.checked })} />
          <span>retired: no longer offered on the phones; what it tightened stays</span>
        </label>
        <Say>{said}</Say>
        <div class="acts">
          <button class="main-act">{start.id ? 'Keep this description' : 'Put it into the register'}</button>
          <button type="button" class="plain" onClick={() => go(start.id ? ['gauges', 'torque', start.id] : ['gauges', 'torque'])}>
            Leave
          </button>
        </div>
      </form>
    </section>
  )
}
