// Where the ink goes when a bore, a journal or a face is drawn with its deviations magnified. Lengths in millimetres, ink in
// units of the drawing, one of which is one CSS pixel. Nothing here is shown as a figure or judged.

/** Millimetres on the sheet of one unit: a CSS pixel is 1/96 in. */
export const MM = 25.4 / 96

const STEPS = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8]

/** The largest round magnification at which `deviation` (mm) takes no more than `room` (units). */
export function magnification(deviation: number, room: number): number {
  if (!(deviation > 0)) return 1000
  const most = (room * MM) / deviation
  const decade = 10 ** Math.floor(Math.log10(most))
  return (STEPS.findLast((step) => step * decade <= most * 1.000001) ?? 1) * decade
}

/** "1000", "2.5": a magnification as it is written. */
export function times(magnified: number): string {
  return magnified >= 10 ? String(Math.round(magnified)) : String(Number(magnified.toPrecision(2)))
}

/** One diameter: through the axis at `angle` degrees, counted as on a clock face turned to three, `size` in mm. */
export interface Through {
  angle: number
  size: number
}

/**
 * The diameter in every direction of the plainest closed curve through the readings: a mean and one oval. Two readings settle
 * it when they are square to each other, three always; more are fitted by least squares. Two-point gauging sees no lobes.
 */
export function ovalThrough(readings: readonly Through[]): (degrees: number) => number {
  const mean = readings.reduce((sum, { size }) => sum + size, 0) / readings.length
  if (readings.length < 2) return () => mean
  if (readings.length === 2) {
    const [first, second] = readings as [Through, Through]
    return (degrees) => mean + ((first.size - second.size) / 2) * Math.cos(2 * radians(degrees - first.angle))
  }
  const rows = readings.map(({ angle }) => [1, Math.cos(2 * radians(angle)), Math.sin(2 * radians(angle))])
  const [a, b, c] = leastSquares(
    rows,
    readings.map(({ size }) => size - mean),
  )
  return (degrees) => mean + a + b * Math.cos(2 * radians(degrees)) + c * Math.sin(2 * radians(degrees))
}

export function radians(degrees: number): number {
  return (degrees / 180) * Math.PI
}

function leastSquares(rows: number[][], sizes: number[]): [number, number, number] {
  const normal = [0, 1, 2].map((i) => [0, 1, 2].map((j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0)))
  const right = [0, 1, 2].map((i) => rows.reduce((sum, row, n) => sum + row[i]! * sizes[n]!, 0))
  const whole = determinant(normal)
  if (Math.abs(whole) < 1e-12) return [0, 0, 0]
  return [0, 1, 2].map(
    (i) => determinant(normal.map((row, n) => row.map((value, j) => (j === i ? right[n]! : value)))) / whole,
  ) as [number, number, number]
}

function determinant([p, q, r]: number[][]): number {
  const [a, b, c] = p as [number, number, number]
  return a * (q![1]! * r![2]! - q![2]! * r![1]!) - b * (q![0]! * r![2]! - q![2]! * r![0]!) + c * (q![0]! * r![1]! - q![1]! * r![0]!)
}

/** A closed path about the origin; `radius` in units for each direction in degrees. */
export function closedPath(radius: (degrees: number) => number, step = 5): string {
  const at = Array.from({ length: 360 / step }, (_, i) => {
    const r = radius(i * step)
    return `${(r * Math.cos(radians(i * step))).toFixed(2)} ${(-r * Math.sin(radians(i * step))).toFixed(2)}`
  })
  return `M${at.join('L')}Z`
}

/** The direction a reading was taken in, from its words: across the crank at three o'clock, along it at twelve. */
export function directionOf(words: string, index: number, of: number): number {
  const written = /(-?\d+(?:\.\d+)?)\s*(?:°|deg)?/.exec(words)
  // A housing is read upright and a part of a turn to either side of that.
  if (/\bright\b/.test(words)) return 90 - Number(written?.[1] ?? 60)
  if (/\bleft\b/.test(words)) return 90 + Number(written?.[1] ?? 60)
  if (written) return Number(written[1])
  if (/axial|along|vertical/.test(words)) return 90
  if (/thrust|across|horizontal/.test(words)) return 0
  return (180 / Math.max(1, of)) * index
}
