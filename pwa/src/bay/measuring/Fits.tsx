import { useState } from 'preact/hooks'
import { Choice } from '../../parts/controls/Field.tsx'
import { CodeFields, HeatFields, PressFields } from '../../parts/fits/FitFields.tsx'
import { FitFigures, HeatFigures, PressFigures } from '../../parts/fits/FitFigures.tsx'
import { BLANK, sums, type Typed } from '../../parts/fits/fit_sums.ts'
import type { Job } from '../../store/index.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { lastUsed, remember } from '../frame/hand.ts'

const LEAVES = [
  { value: 'limits', words: 'limits' },
  { value: 'press', words: 'press' },
  { value: 'heat', words: 'heat' },
] as const
type Leaf = (typeof LEAVES)[number]['value']

const KEPT = 'fits'

/** Limits and fits at the bench: sums only, nothing here becomes a record. What was typed stays as it was left. */
export function Fits({ job }: { job: Job }) {
  const [typed, setTyped] = useState<Typed>(asLeft)
  const change = (change: Partial<Typed>) => {
    const next = { ...typed, ...change }
    setTyped(next)
    remember(KEPT, JSON.stringify(next))
  }
  const [leaf, setLeaf] = useState<Leaf>('limits')
  const told = sums(typed)
  const fields = { typed, wrong: told.wrong, change }
  return (
    <Screen title="Fits" job={job} acts={<BackAct />}>
      <div class="fits-bay form">
        <Choice label="What is wanted" options={[...LEAVES]} chosen={[leaf]} onChoose={setLeaf} />
        {leaf === 'limits' && (
          <>
            <CodeFields {...fields} />
            <FitFigures sums={told} />
          </>
        )}
        {leaf !== 'limits' && (
          <p class="fits-at">
            <span class="figure">{typed.code || 'no code typed'}</span> {told.kind}
          </p>
        )}
        {leaf === 'press' && (
          <>
            <PressFields {...fields} />
            <PressFigures sums={told} />
          </>
        )}
        {leaf === 'heat' && (
          <>
            <HeatFields {...fields} />
            <HeatFigures sums={told} />
          </>
        )}
      </div>
    </Screen>
  )
}

function asLeft(): Typed {
  try {
    return { ...BLANK, ...JSON.parse(lastUsed(KEPT) || '{}') }
  } catch {
    return BLANK
  }
}
