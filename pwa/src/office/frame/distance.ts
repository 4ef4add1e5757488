import { say } from './say.ts'

/** The units of a vehicle's distance or of an engine's hours, as a form offers them. */
export const DISTANCE_UNITS = [
  { value: '', words: say('common.distance_no_unit') },
  { value: 'km', words: say('common.distance_km') },
  { value: 'mi', words: say('common.distance_miles') },
  { value: 'h', words: say('common.distance_hours') },
]
