import { useMemo, useState } from 'preact/hooks'
import { EngineDrawing } from '../../../parts/engine/EngineDrawing.tsx'
import {
  type DrawnType,
  drawingOf,
  viewFor,
  viewsOf,
  symbolFor,
  symbolsFor,
  tallyBySymbol,
} from '../../../parts/engine/engine_drawings.ts'
import { Tally } from '../../../parts/controls/Tally.tsx'
import { listed } from '../../../trade/ground/sentences.ts'
import { set } from '../../frame/route.ts'
import { sentence } from '../../frame/words.ts'
import { toggle } from './filters.ts'
import { allPlaces, placeName, touching } from './places.ts'
import { filters, job } from './state.ts'
import { say } from '../../frame/say.ts'
import './places.css'

/** The engine drawing as the way into the record: every place shows how many records it has; touched, it filters the record. */
export function Places({ done }: { done: () => void }) {
  const [wanted, setWanted] = useState('block')
  const open = job.value
  const type = open?.engine_type_data as DrawnType | null | undefined
  const chosen = filters.value.place ?? ''
  const drawn = useMemo(() => {
    if (!type) return null
    const sheet = chosen ? viewFor(type, chosen, wanted) : wanted
    return { sheet, sheets: viewsOf(type), drawing: drawingOf(type, sheet, 0, true) }
  }, [type, wanted, chosen])
  if (!open) return null
  const choose = (code: string) => {
    toggle('place', code)
    done()
  }
  const near = chosen && !filters.value.only ? touching(chosen) : []
  return (
    <>
      <button type="button" class="places-back" onClick={done}>
        {say('record.record')}
      </button>
      {drawn && drawn.sheets.length > 1 && (
        <div class="sheets wraps below-4" role="group" aria-label={say('record.views')}>
          {drawn.sheets.map(({ code, name }) => (
            <button class="small" key={code} type="button" aria-pressed={code === drawn.sheet} onClick={() => setWanted(code)}>
              {name}
            </button>
          ))}
        </div>
      )}
      {drawn ? (
        <EngineDrawing
          drawing={drawn.drawing}
          title={[open.engine_type_name, drawn.sheets.find(({ code }) => code === drawn.sheet)?.name].filter(Boolean).join(', ')}
          nameOf={placeName}
          chosen={chosen ? symbolFor(drawn.drawing, chosen) : null}
          onChoose={choose}
          tallies={tallyBySymbol(drawn.drawing, open.tallies)}
          related={symbolsFor(drawn.drawing, near)}
        />
      ) : (
        <p class="empty">
          {say('record.no_drawing')}
        </p>
      )}
      <ChosenPlace chosen={chosen} />
      <Others shown={(code) => Boolean(drawn && symbolFor(drawn.drawing, code))} chosen={chosen} choose={choose} />
    </>
  )
}

/** The chosen place in words, with its mating parts. */
function ChosenPlace({ chosen }: { chosen: string }) {
  if (!chosen)
    return <p class="places-said soft above-6">{say('record.choose_place')}</p>
  const near = touching(chosen)
  const only = Boolean(filters.value.only)
  return (
    <p class="places-said above-6" role="status">
      <b>{sentence(placeName(chosen))}</b>{' '}
      {near.length > 0 && !only && <>{say('record.with_mating_parts', { parts: inShort(near) })} </>}
      {only && <>{say('record.this_place_alone')} </>}
      {near.length > 0 && (
        <button type="button" class="plain" onClick={() => set({ only: only ? undefined : '1', exhibit: undefined })}>
          {only ? say('record.include_mating_parts') : say('record.only_this_place')}
        </button>
      )}
      <button type="button" class="plain" onClick={() => toggle('place', chosen)}>
        {say('record.whole_engine')}
      </button>
    </p>
  )
}

/** Main parts by name, the rest as a number: a bore has some thirty mating parts. */
function inShort(codes: string[]): string {
  const large = codes.filter((code) => /^(bore|piston|rod|crankpin|main|head|deck)(\/|$)/.test(code)).slice(0, 7)
  const named = (large.length ? large : codes.slice(0, 5)).map(placeName)
  const rest = codes.length - named.length
  return listed(rest > 0 ? [...named, say('record.smaller_parts', { count: rest })] : named)
}

interface OthersProps {
  shown: (code: string) => boolean
  chosen: string
  choose: (code: string) => void
}

/** Places with records that this view of the drawing does not show, and any place by name. */
function Others({ shown, chosen, choose }: OthersProps) {
  const [typed, setTyped] = useState('')
  const tallies = job.value?.tallies ?? {}
  const rest = Object.entries(tallies).filter(([code, n]) => n > 0 && !shown(code))
  const named = typed.trim().toLowerCase()
  const matching = named ? allPlaces.value.filter((code) => placeName(code).toLowerCase().includes(named)).slice(0, 8) : []
  return (
    <div class="places-others above-6">
      {rest.length > 0 && (
        <>
          <h2 class="soft small light">{say('record.elsewhere')}</h2>
          <ul>
            {rest.map(([code, n]) => (
              <li key={code}>
                <button type="button" aria-pressed={code === chosen} onClick={() => choose(code)}>
                  <span>{placeName(code)}</span> <Tally count={n} />
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      <label class="places-typed own-line above-6">
        <span>{say('record.place_by_name')}</span>
        <input
          type="search"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
          placeholder={say('record.place_example')}
        />
      </label>
      {matching.length > 0 && (
        <ul aria-label={say('record.places_found')}>
          {matching.map((code) => (
            <li key={code}>
              <button type="button" onClick={() => (setTyped(''), choose(code))}>
                <span>{placeName(code)}</span> <Tally count={tallies[code] ?? 0} />
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
