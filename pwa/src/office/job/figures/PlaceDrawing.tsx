import { FaceDrawing } from '../../../parts/grid/FaceDrawing.tsx'
import { magnification, times } from '../../../parts/grid/magnified.ts'
import { RoundnessDrawing } from '../../../parts/grid/RoundnessDrawing.tsx'
import { SectionDrawing } from '../../../parts/grid/SectionDrawing.tsx'
import { listed } from '../../../trade/ground/sentences.ts'
import type { Sheet, SheetPlace } from '../../../trade/sheets/types.ts'
import { cells, ink } from './written.ts'
import { axesOf, profilesOf, ringsOf, type Scale } from './drawn.ts'
import { say } from '../../frame/say.ts'

interface Props {
  sheet: Sheet
  place: SheetPlace
  scale: Scale | null
  out: Set<string>
  /** Rings only, where there is no room for the section. */
  ringsOnly?: boolean
}

/** What was read at a place as a drawing; nothing for procedures that have none. */
export function PlaceDrawing({ sheet, place, scale, out, ringsOnly }: Props) {
  if (sheet.drawing === 'face') return <Face sheet={sheet} place={place} out={out} />
  if (!scale) return null
  const rings = ringsOf(sheet, place)
  const profiles = profilesOf(sheet, place)
  const { along } = axesOf(sheet)
  const readings = Object.values(place.readings)
    .map(({ mean, unit }) => `${mean} ${unit}`)
    .join(', ')
  if (!rings.length && !profiles.length) return <div class="place-drawing along wrapped" />
  return (
    <div class="place-drawing along wrapped">
      {rings.length > 0 && (
        <RoundnessDrawing
          rings={rings}
          {...scale}
          label={numberOf(place)}
          title={say('figures.ring_title', { place: place.name, times: times(scale.magnified), readings })}
        />
      )}
      {profiles.length > 0 && along !== null && !(ringsOnly && rings.length > 0) && (
        <SectionDrawing
          sort={sheet.drawing === 'journal' ? 'journal' : 'bore'}
          stations={sheet.axes[along]!.values.map(({ words }) => words)}
          profiles={profiles}
          {...scale}
          title={say('figures.section_title', { place: place.name, directions: listed(profiles.map(({ words }) => words)) })}
        />
      )}
    </div>
  )
}

/** The number of a place, as the drawing shows it. */
function numberOf(place: SheetPlace): string {
  return place.place.split('/').slice(1).join('/') || place.name.slice(0, 2)
}

function Face({ sheet, place, out }: Pick<Props, 'sheet' | 'place' | 'out'>) {
  const lines = cells(sheet).map(({ code, words }) => {
    const taken = place.readings[code]
    return { code, words, gap: taken ? ink(taken.mean, taken.unit) : null, text: taken?.mean ?? '', beyond: out.has(code) }
  })
  const most = Math.max(0, ...sheet.places.flatMap(({ readings }) => Object.values(readings).map(({ mean, unit }) => ink(mean, unit) ?? 0)))
  const magnified = magnification(most, 16)
  const readings = lines.filter(({ text }) => text).map(({ words, text }) => `${words} ${text}`)
  return (
    <div class="place-drawing along wrapped">
      <FaceDrawing lines={lines} magnified={magnified} title={say('figures.face_title', { place: place.name, readings: readings.join(', ') || say('figures.none_read') })} />
      {most > 0 && <p class="bold one-line">{say('figures.gaps_magnified', { times: times(magnified) })}</p>}
    </div>
  )
}
