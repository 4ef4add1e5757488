import { CodeFields, HeatFields, PressFields } from '../../parts/fits/FitFields.tsx'
import { FitFigures, HeatFigures, PressFigures } from '../../parts/fits/FitFigures.tsx'
import { BLANK, sums, type Typed } from '../../parts/fits/fit_sums.ts'
import { PageHead } from '../frame/PageHead.tsx'
import { route, set } from '../frame/route.ts'

/** Limits and fits, press force and heat. What is typed stands in the address, so that a sum can be sent and gone back to. */
export function Fits() {
  const typed = fromAddress(route.value.values)
  const told = sums(typed)
  // An empty value would leave the address and come back as the one the sheet opens with: a blank says 'emptied'.
  const change = (change: Partial<Typed>) => set(Object.fromEntries(Object.entries(change).map(([name, value]) => [name, kept(name as keyof Typed, value)])), true)
  const fields = { typed, wrong: told.wrong, change }
  return (
    <article class="page fits-page" aria-labelledby="fits-title">
      <PageHead id="fits-title" title="Fits" />
      <section class="fits-part" aria-labelledby="fits-limits">
        <div class="fits-fields">
          <h2 id="fits-limits">Limits of size, ISO 286</h2>
          <CodeFields {...fields} />
        </div>
        <FitFigures sums={told} />
      </section>
      <section class="fits-part" aria-labelledby="fits-press">
        <div class="fits-fields">
          <h2 id="fits-press">Pressed together</h2>
          <PressFields {...fields} />
        </div>
        <div>
          <PressFigures sums={told} />
        </div>
      </section>
      <section class="fits-part" aria-labelledby="fits-heat">
        <div class="fits-fields">
          <h2 id="fits-heat">Put together with heat</h2>
          <HeatFields {...fields} />
        </div>
        <div>
          <HeatFigures sums={told} />
        </div>
      </section>
    </article>
  )
}

const EMPTIED = ' '

function kept(name: keyof Typed, value: string | undefined): string | undefined {
  if (value === BLANK[name]) return undefined
  return value || EMPTIED
}

function fromAddress(values: Record<string, string>): Typed {
  const found = Object.keys(BLANK).filter((name) => values[name] !== undefined)
  return { ...BLANK, ...Object.fromEntries(found.map((name) => [name, values[name] === EMPTIED ? '' : values[name]!])) }
}
