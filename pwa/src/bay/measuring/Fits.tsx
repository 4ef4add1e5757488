import { useState } from 'preact/hooks'
import { Choice } from '../../parts/controls/Field.tsx'
import { CodeFields, HeatFields, PressFields } from '../../parts/fits/FitFields.tsx'
import { FitFigures, HeatFigures, PressFigures } from '../../parts/fits/FitFigures.tsx'
import { BLANK, sums, type Typed } from '../../parts/fits/fit_sums.ts'
import type { Job } from '../../store/index.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { lastUsed, remember } from '../frame/hand.ts'
import { say } from '../frame/say.ts'

type Leaf = 'limits' | 'press' | 'heat'

const leaves = (): { value: Leaf; words: string }[] => [
  { value: 'limits', words: say('fits.limits') },
  { value: 'press', words: say('fits.press') },
  { value: 'heat', words: say('fits.heat') },
]

const STORED = 'fits'

/** Limits and fits at the bench: calculation only, nothing here becomes a record. What was typed stays as it was left. */
export function Fits({ job }: { job: Job }) {
  const [typed, setTyped] = useState<Typed>(asLeft)
  const change = (change: Partial<Typed>) => {
    const next = { ...typed, ...change }
    setTyped(next)
    remember(STORED, JSON.stringify(next))
  }
  const [leaf, setLeaf] = useState<Leaf>('limits')
  const results = sums(typed)
  const fields = { typed, wrong: results.wrong, change }
  return (
    <Screen title={say('fits.title')} job={job} acts={<BackAct />}>
      <div class="fits-bay form">
        <Choice label={say('fits.what')} options={leaves()} chosen={[leaf]} onChoose={setLeaf} />
        {leaf === 'limits' && (
          <>
            <CodeFields {...fields} />
            <FitFigures sums={results} />
          </>
        )}
        {leaf !== 'limits' && (
          <p class="fits-at">
            <span class="figure">{typed.code || say('fits.no_code')}</span> {results.kind}
          </p>
        )}
        {leaf === 'press' && (
          <>
            <PressFields {...fields} />
            <PressFigures sums={results} />
          </>
        )}
        {leaf === 'heat' && (
          <>
            <HeatFields {...fields} />
            <HeatFigures sums={results} />
          </>
        )}
      </div>
    </Screen>
  )
}

function asLeft(): Typed {
  try {
    return { ...BLANK, ...JSON.parse(lastUsed(STORED) || '{}') }
  } catch {
    return BLANK
  }
}
