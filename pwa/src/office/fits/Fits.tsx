import { CodeFields, HeatFields, PressFields } from '../../parts/fits/FitFields.tsx'
import { FitFigures, HeatFigures, PressFigures } from '../../parts/fits/FitFigures.tsx'
import { BLANK, sums, type Typed } from '../../parts/fits/fit_sums.ts'
import { PageHead } from '../frame/PageHead.tsx'
import { route, set } from '../frame/route.ts'
import { say } from '../frame/say.ts'
import './fits.css'

/** Limits and fits, press force and heat. What is typed is held in the address, so that it can be sent and returned to. */
export function Fits() {
  const typed = fromAddress(route.value.values)
  const result = sums(typed)
  const change = (changes: Partial<Typed>) =>
    set(Object.fromEntries(Object.entries(changes).map(([name, value]) => [name, addressValue(name as keyof Typed, value)])), true)
  const fields = { typed, wrong: result.wrong, change }
  return (
    <article class="page fits-page" aria-labelledby="fits-title">
      <PageHead id="fits-title" title={say('fits.title')} />
      <section class="fits-part in-grid" aria-labelledby="fits-limits">
        <div class="fits-fields in-grid">
          <h2 id="fits-limits">{say('fits.limits')}</h2>
          <CodeFields {...fields} />
        </div>
        <FitFigures sums={result} />
      </section>
      <section class="fits-part in-grid" aria-labelledby="fits-press">
        <div class="fits-fields in-grid">
          <h2 id="fits-press">{say('fits.press')}</h2>
          <PressFields {...fields} />
        </div>
        <div>
          <PressFigures sums={result} />
        </div>
      </section>
      <section class="fits-part in-grid" aria-labelledby="fits-heat">
        <div class="fits-fields in-grid">
          <h2 id="fits-heat">{say('fits.heat')}</h2>
          <HeatFields {...fields} />
        </div>
        <div>
          <HeatFigures sums={result} />
        </div>
      </section>
    </article>
  )
}

/** An empty value would leave the address and come back as the value the page starts with: this marks an emptied field. */
const EMPTIED = ' '

function addressValue(name: keyof Typed, value: string | undefined): string | undefined {
  if (value === BLANK[name]) return undefined
  return value || EMPTIED
}

function fromAddress(values: Record<string, string>): Typed {
  const given = Object.keys(BLANK).filter((name) => values[name] !== undefined)
  return { ...BLANK, ...Object.fromEntries(given.map((name) => [name, values[name] === EMPTIED ? '' : values[name]!])) }
}
