import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { placeName, allPlaces } from '../record/places.ts'
import type { Location } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'

interface Props {
  value: Location
  put: (value: Location) => void
  /** Without the point, where something else gives it. */
  pointless?: boolean
}

/** A place by its name, and a point there where that matters. Empty: no particular place. */
export function PlaceField({ value, put, pointless = false }: Props) {
  const [typed, setTyped] = useState(value.place ? placeName(value.place) : '')
  const names = new Map(allPlaces.value.map((code) => [placeName(code).toLowerCase(), code]))
  useEffect(() => {
    if (value.place && names.get(typed.trim().toLowerCase()) !== value.place) setTyped(placeName(value.place))
  }, [value.place])
  const write = (text: string) => {
    setTyped(text)
    put({ ...value, place: names.get(text.trim().toLowerCase()) ?? '' })
  }
  const unknown = typed.trim() && !value.place
  return (
    <>
      <Field
        label={say('desk.place')}
        value={typed}
        onValue={write}
        suggestions={[...names.keys()]}
        wrong={unknown ? say('desk.place_unknown') : ''}
      />
      {!pointless && (
        <Field
          label={say('desk.point')}
          value={value.point}
          onValue={(point) => put({ ...value, point })}
          hint={value.place ? undefined : say('desk.point_needs_place')}
        />
      )}
    </>
  )
}
