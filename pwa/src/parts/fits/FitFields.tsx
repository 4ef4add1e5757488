import { useId } from 'preact/hooks'
import { USUAL } from '../../trade/proposals/fits.ts'
import { Field } from '../controls/Field.tsx'
import { MATERIALS, MATERIAL_SOURCE, ofMaterial, type Typed, type Wrong } from './fit_sums.ts'
import { say } from '../words/say.ts'
import './fits.css'

interface Props {
  typed: Typed
  wrong: Wrong
  change: (change: Partial<Typed>) => void
}

const metals = () => [{ value: '', words: say('fits.choose_material') }, ...MATERIALS.map(({ code, words }) => ({ value: code, words }))]

function Typing({ typed, wrong, change, field, label, hint, keys = 'decimal' }: Props & { field: keyof Typed; label: string; hint?: string; keys?: 'text' | 'decimal' }) {
  return <Field label={label} value={typed[field]} onValue={(value) => change({ [field]: value })} wrong={wrong[field]} hint={hint} figures keys={keys} />
}

/** The code, the usual fits beside it, and the two sizes as measured. */
export function CodeFields(props: Props) {
  const { typed, change } = props
  const about = useId()
  return (
    <>
      <Typing {...props} field="code" label={say('fits.size_and_classes')} keys="text" />
      <div class="fit-usual" role="group" aria-labelledby={about}>
        <p class="cell-label" id={about}>
          {say('fits.usual')}
        </p>
        <div class="fit-usual-row wraps">
          {USUAL.map(({ code, words }) => (
            <button class="small" key={code} type="button" title={words} aria-pressed={ends(typed.code, code)} onClick={() => change({ code: withClasses(typed.code, code) })}>
              <span class="figure">{code}</span>
            </button>
          ))}
        </div>
      </div>
      <div class="halves">
        <Typing {...props} field="hole" label={say('fits.hole_measured')} />
        <Typing {...props} field="shaft" label={say('fits.shaft_measured')} />
      </div>
    </>
  )
}

// A size at the front of what was typed stays; only its classes change.
function withClasses(typed: string, classes: string): string {
  const size = typed.trim().replace(/\s*(?:[A-Z]{1,2}|[a-z]{1,2})\d{1,2}(?:\s*[/\-\s]\s*(?:[A-Z]{1,2}|[a-z]{1,2})\d{1,2})?$/, '')
  return `${size || '20'} ${classes}`
}

const ends = (typed: string, classes: string) => typed.replace(/\s/g, '').endsWith(classes)

/** What the two parts are: rings of a metal, with the seat between them. */
export function PressFields(props: Props) {
  return (
    <>
      <div class="halves">
        <Typing {...props} field="hubOuter" label={say('fits.hub_outside')} />
        <Typing {...props} field="shaftBore" label={say('fits.shaft_bore')} hint={say('fits.solid')} />
      </div>
      <div class="halves">
        <Metal {...props} part="hub" label={say('fits.hub_material')} />
        <Metal {...props} part="shaft" label={say('fits.shaft_material')} />
      </div>
      <div class="halves">
        <Typing {...props} field="hubModulus" label={say('fits.hub_modulus')} />
        <Typing {...props} field="shaftModulus" label={say('fits.shaft_modulus')} />
        <Typing {...props} field="hubPoisson" label={say('fits.hub_poisson')} />
        <Typing {...props} field="shaftPoisson" label={say('fits.shaft_poisson')} />
      </div>
      <div class="halves">
        <Typing {...props} field="length" label={say('fits.length')} />
        <Typing {...props} field="friction" label={say('fits.friction')} hint={say('fits.friction_hint')} />
      </div>
      <p class="field-hint">{say('fits.material_source', { ...MATERIAL_SOURCE })}</p>
    </>
  )
}

function Metal({ part, label, typed, change }: Props & { part: 'hub' | 'shaft'; label: string }) {
  const chosen = part === 'hub' ? typed.hub : typed.shaftOf
  return <Field label={label} value={chosen} options={metals()} onValue={(code) => change(ofMaterial(part, code))} />
}

/** What heating takes: how the parts expand, the assembly clearance, how warm the shaft is. */
export function HeatFields(props: Props) {
  return (
    <>
      <div class="halves">
        <Metal {...props} part="hub" label={say('fits.hub_material')} />
        <Metal {...props} part="shaft" label={say('fits.shaft_material')} />
      </div>
      <div class="halves">
        <Typing {...props} field="hubAlpha" label={say('fits.hub_expansion')} />
        <Typing {...props} field="shaftAlpha" label={say('fits.shaft_expansion')} />
        <Typing {...props} field="slip" label={say('fits.slip')} />
        <Typing {...props} field="shaftTemperature" label={say('fits.shaft_temperature')} keys="text" />
      </div>
    </>
  )
}
