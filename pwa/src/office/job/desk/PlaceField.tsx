import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { placeName, allPlaces } from '../record/places.ts'
import type { Location } from '../../frame/shapes.ts'

interface Props {
  value: Location
  put: (value: Location) => void
  /** Without the point: something else says it. */
  pointless?: boolean
}

/** A place by its name in the workshop's words, and the point there if one matters. Empty: nowhere in particular. */
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
        label="Place"
        value={typed}
        onValue={write}
        suggestions={[...names.keys()]}
        wrong={unknown ? 'This engine has no such place. Choose one from the list, or leave it empty.' : ''}
      />
      {!pointless && (
        <Field
          label="Point there"
          value={value.point}
          onValue={(point) => put({ ...value, point })}
          hint={value.place ? undefined : 'Needs a place.'}
        />
      )}
    </>
  )
}
