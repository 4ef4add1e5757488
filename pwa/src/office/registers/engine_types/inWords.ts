import type { EngineType } from '../../frame/shapes.ts'

const LAYOUTS = { inline: 'in line', v: 'V', flat: 'flat', single: 'single' } as const

/** "V6, 60 degrees, 4 mains, invented" */
export function inWords(type: EngineType): string {
  const n = type.cylinders
  const shape =
    type.layout === 'v'
      ? `V${n}, ${type.bank_angle}°`
      : type.layout === 'single'
        ? 'single'
        : `${n} ${LAYOUTS[type.layout]}`
  return [shape, `${type.mains} mains`, type.invented && 'invented'].filter(Boolean).join(', ')
}
