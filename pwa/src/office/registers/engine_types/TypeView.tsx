import { FactList } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { useAsk } from '../../frame/useAsk.ts'
import { address } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import type { EngineType, EngineTypeShown } from '../../frame/shapes.ts'
import { dayAndClock, listed, sentence } from '../../frame/words.ts'
import { inWords } from './inWords.ts'
import { SheetsOf } from './SheetsOf.tsx'
import { placeName, related } from '../../../trade/engine/locations.ts'

/** One engine type: its drawing, its data, and who described it when. */
export function TypeView({ type }: { type: EngineType }) {
  const [place, setPlace] = useState('')
  const { told } = useAsk<EngineTypeShown>(`/api/engine-types/${type.id}`)
  const near = place ? related(type, place) : []
  return (
    <section class="page type-page" aria-labelledby="type-title">
      <PageHead
        id="type-title"
        title={type.name}
        acts={
          <>
            <a class="act" href={address(['engine-types', type.id, 'limits'])}>
              Limits and sizes
            </a>
            <a class="act" href={address(['engine-types', type.id, 'tightening'])}>
              Tightening
            </a>
            <a class="act" href={`/api/engine-types/${type.id}/file`} download>
              Export as a file
            </a>
            {isManager.value && (
              <a class="act" href={address(['engine-types', type.id, 'edit'])}>
                Describe anew
              </a>
            )}
          </>
        }
      >
        <p class="soft">{inWords(type)}</p>
      </PageHead>
      <div class="type-sheet">
        <div class="type-drawing">
          <SheetsOf type={type} chosen={place} choose={(code) => setPlace(code === place ? '' : code)} near={near} />
          <p role="status" class="places-said">
            {place ? (
              <>
                <b>{sentence(placeName(type, place))}</b> touches{' '}
                {listed(near.slice(0, 9).map((code) => placeName(type, code)))}
                {near.length > 9 && ` and ${near.length - 9} more`}.
              </>
            ) : (
              <span class="soft">Choose a place to hear its name and what touches it.</span>
            )}
          </p>
        </div>
        <Data type={type} />
        {told && told.history.length > 0 && (
          <section aria-label="Described">
            <h2>Described</h2>
            <ol class="visits">
              {told.history.map((one) => (
                <li key={one.position}>
                  {dayAndClock(one.received)}, {one.author.name}
                  {one.name !== type.name && <span class="soft"> as {one.name}</span>}
                </li>
              ))}
            </ol>
            <p class="soft">Earlier descriptions stay in the log; the newest counts.</p>
          </section>
        )}
      </div>
    </section>
  )
}

function Data({ type }: { type: EngineType }) {
  const lines: [string, string][] = [
    ['cylinders', String(type.cylinders)],
    ['banks', type.banks.map((bank) => `${bank.code}, ${bank.name}: ${bank.cylinders.join(' ')}`).join('\n')],
    ['crankpins, front to rear', type.crankpins.map((pin) => pin.join(' + ')).join(' | ')],
    ['main bearings', String(type.mains)],
    ['firing order', type.firing_order.join(' – ')],
    ['turns', `${type.rotation}, seen from the front`],
    ['front', type.front === 'flywheel_end' ? 'the flywheel end' : 'the end away from the flywheel'],
    ['valves per cylinder', `${type.valves.inlet} inlet, ${type.valves.exhaust} exhaust`],
    ['camshafts', type.camshafts.map((shaft) => `${shaft.code}: ${shaft.drives.join(' and ')}`).join('\n')],
    ['joints', type.joints.map((joint) => `${joint.name}: ${joint.fasteners.length}`).join('\n')],
    ['also has', type.pieces.map((piece) => piece.replaceAll('_', ' ')).join(', ')],
    ['notes', type.notes],
  ]
  return (
    <section aria-label="Data">
      <h2>Data</h2>
      <FactList facts={lines} />
    </section>
  )
}
