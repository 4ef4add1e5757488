import type { EngineType } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'

/** "V6, 60°", "4 in line", "single" */
function shape({ layout, cylinders, bank_angle }: EngineType): string {
  switch (layout) {
    case 'v':
      return say('engine_types.short_v', { cylinders, angle: bank_angle })
    case 'flat':
      return say('engine_types.short_flat', { cylinders })
    case 'single':
      return say('engine_types.layout_single')
    default:
      return say('engine_types.short_inline', { cylinders })
  }
}

/** "V6, 60°, 4 mains, invented" */
export function layoutWords(type: EngineType): string {
  return [shape(type), say('engine_types.short_mains', { count: type.mains }), type.invented && say('engine_types.invented')]
    .filter(Boolean)
    .join(', ')
}
