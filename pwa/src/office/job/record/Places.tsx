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
import { set } from '../../frame/route.ts'
import { count, listed, sentence } from '../../frame/words.ts'
import { toggle } from './filters.ts'
import { allPlaces, placeName, touching } from './places.ts'
import { filters, job } from './state.ts'

/** The engine as the way into its record: every place shows how much evidence it has, and narrows the record to itself. */
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
        Record
      </button>
      {drawn && drawn.sheets.length > 1 && (
        <div class="sheets" role="group" aria-label="Sheets of the drawing">
          {drawn.sheets.map((one) => (
            <button
              key={one.code}
              type="button"
              aria-pressed={one.code === drawn.sheet}
              onClick={() => setWanted(one.code)}
            >
              {one.name}
            </button>
          ))}
        </div>
      )}
      {drawn ? (
        <EngineDrawing
          drawing={drawn.drawing}
          title={`${open.engine_type_name}, ${drawn.sheets.find((one) => one.code === drawn.sheet)?.name ?? 'block'}`}
          nameOf={placeName}
          chosen={chosen ? symbolFor(drawn.drawing, chosen) : null}
          onChoose={choose}
          tallies={tallyBySymbol(drawn.drawing, open.tallies)}
          related={symbolsFor(drawn.drawing, near)}
        />
      ) : (
        <p class="empty">
          This job's engine type is not described here yet, so there is no drawing. Its places stand below.
        </p>
      )}
      <Said chosen={chosen} />
      <Others shown={(code) => Boolean(drawn && symbolFor(drawn.drawing, code))} chosen={chosen} choose={choose} />
    </>
  )
}

/** In words, what the choice takes in. */
function Said({ chosen }: { chosen: string }) {
  if (!chosen)
    return <p class="places-said soft">Choose a place to see its record. Strokes count the records made there.</p>
  const near = touching(chosen)
  const only = Boolean(filters.value.only)
  return (
    <p class="places-said" role="status">
      <b>{sentence(placeName(chosen))}</b>
      {near.length > 0 && !only && <> and what touches it: {inShort(near)}. </>}
      {only && ' alone. '}
      {near.length > 0 && (
        <button type="button" class="plain" onClick={() => set({ only: only ? undefined : '1', exhibit: undefined })}>
          {only ? 'with what touches it' : 'only this place'}
        </button>
      )}
      <button type="button" class="plain" onClick={() => toggle('place', chosen)}>
        whole engine
      </button>
    </p>
  )
}

/** Main parts by name, the rest as a number: a bore touches some thirty places. */
function inShort(codes: string[]): string {
  const large = codes.filter((code) => /^(bore|piston|rod|crankpin|main|head|deck)(\/|$)/.test(code)).slice(0, 7)
  const said = (large.length ? large : codes.slice(0, 5)).map(placeName)
  const rest = codes.length - said.length
  return rest > 0 ? `${said.join(', ')} and ${count(rest, 'smaller place')}` : listed(said)
}

interface OthersProps {
  shown: (code: string) => boolean
  chosen: string
  choose: (code: string) => void
}

/** Places with records that this sheet of the drawing does not show, and any place by name. */
function Others({ shown, chosen, choose }: OthersProps) {
  const [typed, setTyped] = useState('')
  const tallies = job.value?.tallies ?? {}
  const rest = Object.entries(tallies).filter(([code, n]) => n > 0 && !shown(code))
  const named = typed.trim().toLowerCase()
  const found = named ? allPlaces.value.filter((code) => placeName(code).toLowerCase().includes(named)).slice(0, 8) : []
  return (
    <div class="places-others">
      {rest.length > 0 && (
        <>
          <h2>Elsewhere on this job</h2>
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
      <label class="places-typed">
        <span>place by name</span>
        <input
          type="search"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
          placeholder="main 3, sump, rod bolt"
        />
      </label>
      {found.length > 0 && (
        <ul aria-label="Places found">
          {found.map((code) => (
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
