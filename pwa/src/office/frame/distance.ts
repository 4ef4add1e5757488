/** The units of a vehicle's distance or of an engine's hours, as a form offers them. */
export const DISTANCE_UNITS = [
  { value: '', words: 'not given' },
  { value: 'km', words: 'km' },
  { value: 'mi', words: 'miles' },
  { value: 'h', words: 'hours' },
]
