import { say } from '../frame/say.ts'

/** Fields that may differ between a record and what was heard, in words. */
export const PARTS: Record<string, string> = {
  place: say('spoken.part_place'),
  point: say('spoken.part_point'),
  quantity: say('spoken.part_quantity'),
  value: say('spoken.part_value'),
  value_to: say('spoken.part_value_to'),
  unit: say('spoken.part_unit'),
  conditions: say('spoken.part_condition'),
  condition: say('spoken.part_condition'),
  disposition: say('spoken.part_disposition'),
}
