import { FactList, type Fact } from '../../frame/FactList.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { useGet } from '../../frame/useGet.ts'
import { address } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import type { EngineType, EngineTypeShown } from '../../frame/shapes.ts'
import { sentence } from '../../frame/words.ts'
import { listed } from '../../../trade/ground/sentences.ts'
import { placeName, related } from '../../../trade/engine/locations.ts'
import { History } from '../History.tsx'
import { DrawingViews } from './DrawingViews.tsx'
import { layoutWords } from './layout_words.ts'

/** One engine type: its drawing, its data, and who described it when. */
export function TypeView({ type }: { type: EngineType }) {
  const [place, setPlace] = useState('')
  const { data } = useGet<EngineTypeShown>(`/api/engine-types/${type.id}`)
  const mating = place ? related(type, place) : []
  return (
    <section class="page type-page" aria-labelledby="type-title">
      <PageHead id="type-title" title={type.name} acts={<Acts type={type} />}>
        <p class="soft">{layoutWords(type)}</p>
      </PageHead>
      <div class="type-sheet parted headed">
        <div class="type-drawing">
          <DrawingViews type={type} chosen={place} choose={(code) => setPlace(code === place ? '' : code)} mating={mating} />
          <p role="status" class="places-said above-6">
            {place ? placeSentence(type, place, mating) : <span class="soft">{say('engine_types.choose_place')}</span>}
          </p>
        </div>
        <section aria-label={say('engine_types.data')}>
          <h2>{say('engine_types.data')}</h2>
          <FactList facts={factsOf(type)} />
        </section>
        <History history={data?.history} describe={({ name }) => name !== type.name && <span class="soft"> {say('engine_types.named', { name })}</span>} />
      </div>
    </section>
  )
}

function Acts({ type }: { type: EngineType }) {
  return (
    <>
      <a class="act" href={address(['engine-types', type.id, 'limits'])}>
        {say('engine_types.limits')}
      </a>
      <a class="act" href={address(['engine-types', type.id, 'tightening'])}>
        {say('engine_types.tightening')}
      </a>
      <a class="act" href={`/api/engine-types/${type.id}/file`} download>
        {say('registers.export_file')}
      </a>
      {isManager.value && (
        <a class="act" href={address(['engine-types', type.id, 'edit'])}>
          {say('common.edit')}
        </a>
      )}
    </>
  )
}

const MOST_NAMED = 9

/** "Bore 3: mating parts piston 3, liner 3." */
function placeSentence(type: EngineType, place: string, mating: string[]): string {
  const name = sentence(placeName(type, place))
  if (!mating.length) return name
  const parts = mating.slice(0, MOST_NAMED).map((code) => placeName(type, code))
  if (mating.length <= MOST_NAMED) return say('engine_types.mating_parts', { name, parts: listed(parts) })
  return say('engine_types.mating_parts_and_more', { name, parts: parts.join(', '), count: mating.length - MOST_NAMED })
}

function factsOf(type: EngineType): Fact[] {
  return [
    [say('engine_types.fact_cylinders'), String(type.cylinders)],
    [say('engine_types.fact_banks'), type.banks.map(bankWords).join('\n')],
    [say('engine_types.fact_crankpins'), type.crankpins.map((pin) => pin.join(' + ')).join(' | ')],
    [say('engine_types.fact_mains'), String(type.mains)],
    [say('engine_types.fact_firing_order'), type.firing_order.join(' – ')],
    [
      say('engine_types.fact_rotation'),
      type.rotation === 'clockwise' ? say('engine_types.clockwise_from_front') : say('engine_types.anticlockwise_from_front'),
    ],
    [say('engine_types.fact_front'), type.front === 'flywheel_end' ? say('engine_types.front_flywheel') : say('engine_types.front_away')],
    [say('engine_types.fact_valves'), say('engine_types.valves', type.valves)],
    [say('engine_types.fact_camshafts'), type.camshafts.map(({ code, drives }) => `${code}: ${drivesWords(drives)}`).join('\n')],
    [say('engine_types.fact_joints'), type.joints.map(({ name, fasteners }) => `${name}: ${fasteners.length}`).join('\n')],
    [say('engine_types.fact_also_has'), type.pieces.map((piece) => piece.replaceAll('_', ' ')).join(', ')],
    [say('registers.fact_notes'), type.notes],
  ]
}

/** "A, left: 1 3 5" */
function bankWords({ code, name, cylinders }: EngineType['banks'][number]): string {
  return `${[code, name].filter(Boolean).join(', ')}: ${cylinders.join(' ')}`
}

function drivesWords(drives: EngineType['camshafts'][number]['drives']): string {
  return listed(drives.map((side) => (side === 'inlet' ? say('engine_types.drives_inlet') : say('engine_types.drives_exhaust'))))
}
