import { useMemo, useRef, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { PARTS } from '../../../trade/engine/parts.ts'
import { DRAWINGS, WALKS, type Procedure } from '../../../trade/measuring/procedures.ts'
import { QUANTITIES } from '../../../trade/ground/units.ts'
import { post, ApiError } from '../../frame/api.ts'
import { Fault as Say } from '../../frame/Say.tsx'
import { go } from '../../frame/route.ts'
import { useFaults } from '../../frame/useFaults.ts'
import { faultsAt } from '../../frame/words.ts'
import { count } from '../../frame/words.ts'
import { readForm, type Typed } from './form.ts'
import { AcrossLines, FigureLines } from './FigureLines.tsx'
import { Axes, Beside, Sizes } from './GridLines.tsx'
import { TryOut } from './TryOut.tsx'

const DRAWING_WORDS: Record<string, string> = {
  bore: 'a bore',
  journal: 'a journal',
  housing: 'a housing bore',
  face: 'a face with straight-edge lines',
  lobe: 'a cam lobe',
  pin: 'a pin',
  list: 'no drawing, a list',
}

interface Props {
  start: Typed
  saved: (procedure: Procedure) => void
}

/** A procedure of the workshop's own. Beside the lines stands what they come to with made-up readings. */
export function ProcedureForm({ start, saved }: Props) {
  const [form, setForm] = useState(start)
  const [tried, setTried] = useState(false)
  const [trouble, setTrouble] = useState('')
  const put = (news: Partial<Typed>) => setForm((was) => ({ ...was, ...news }))
  const { procedure, value, known } = useMemo(() => readForm(form), [form])
  const { faults: found, checked, trouble: unchecked, now } = useFaults('procedure', value)
  const faults = [...known, ...found]
  const sound = useRef<Procedure | null>(null)
  // While a line is at fault the last sound procedure stays on show; a missing name makes no difference to the figures.
  if (checked && faults.every(({ where }) => ['name', 'code', 'edition'].includes(where))) sound.current = procedure
  const keep = async (event: Event) => {
    event.preventDefault()
    setTried(true)
    if (known.length || (await now()).length) return
    try {
      await post('/api/procedures', { procedure })
      saved(procedure)
    } catch (reason) {
      setTrouble(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const shown = tried ? faults : faults.filter(({ where }) => where !== 'name' || form.name !== '')
  const wrong = (field: string) => faultsAt(shown, field)
  return (
    <section class="page procedure-form-page" aria-labelledby="procedure-form-title">
      <header class="page-head">
        <h1 id="procedure-form-title">{start.code ? `Describe anew: ${start.name}` : 'New procedure'}</h1>
        {start.code && <p class="soft">edition {form.edition}; figures of earlier editions keep theirs</p>}
      </header>
      <form noValidate class="type-form procedure-form" onSubmit={keep}>
        <div class="type-form-fields">
          <Field label="Name" value={form.name} onValue={(name) => put({ name })} wrong={wrong('name') || wrong('code')} needed />
          <div class="block">
            <Field
              label="Part"
              value={form.part}
              onValue={(part) => put({ part })}
              options={Object.values(PARTS).map(({ code, name }) => ({ value: code, words: name }))}
              wrong={wrong('part')}
            />
            <Field
              label="Drawn as"
              value={form.drawing}
              onValue={(drawing) => put({ drawing })}
              options={DRAWINGS.map((value) => ({ value, words: DRAWING_WORDS[value] ?? value }))}
            />
            <Field
              label="Read in the grid"
              value={form.quantity}
              onValue={(quantity) => put({ quantity })}
              options={QUANTITIES.map(({ code, words }) => ({ value: code, words }))}
              wrong={wrong('quantity')}
            />
            <Field
              label="Usual order"
              value={form.walk}
              onValue={(walk) => put({ walk: walk as Typed['walk'] })}
              options={Object.entries(WALKS).map(([value, words]) => ({ value, words }))}
            />
          </div>
          <Axes form={form} put={put} faults={shown} />
          <Beside form={form} put={put} faults={shown} />
          <Sizes form={form} put={put} faults={shown} />
          <FigureLines form={form} put={put} faults={shown} procedure={procedure} />
          <AcrossLines form={form} put={put} faults={shown} procedure={procedure} />
          <Field label="About" value={form.about} onValue={(about) => put({ about })} lines={3} wrong={wrong('about')} />
          <Field
            label="Cautions"
            value={form.cautions}
            onValue={(cautions) => put({ cautions })}
            lines={2}
            hint="A line each. They stand where the step is, on the phone too."
            wrong={wrong('cautions')}
          />
        </div>
        <aside class="type-form-drawing" aria-label="What it comes to">
          <p role="status" class="type-form-faults">
            {shown.length ? `${count(shown.length, 'thing')} to put right, said beside the lines.` : checked ? 'It holds together.' : 'Being checked.'}
          </p>
          <Say>{trouble || (tried && faults.length ? faults[0]!.message : unchecked)}</Say>
          <div class="acts">
            <button class="main-act">{start.code ? 'Keep this edition' : 'Keep this procedure'}</button>
            <button
              type="button"
              class="plain"
              onClick={() => go(start.code ? ['procedures', start.code] : ['procedures'])}
            >
              Leave
            </button>
          </div>
          {sound.current ? (
            <TryOut procedure={sound.current} />
          ) : (
            <p class="empty">The grid and the figures appear once the lines hold together.</p>
          )}
        </aside>
      </form>
    </section>
  )
}
