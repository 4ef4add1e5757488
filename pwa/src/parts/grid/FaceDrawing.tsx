import './magnified.css'
export interface FaceLine {
  code: string
  words: string
  /** The largest feeler that went under, in mm to place the ink, and as it was read; null when not read. */
  gap: number | null
  text: string
  beyond: boolean
}

export const W = 216
export const H = 96

/** A face with its straight-edge lines: under each the gap, drawn many times its size. */
export function FaceDrawing({ lines, magnified, title }: { lines: FaceLine[]; magnified: number; title: string }) {
  return (
    <svg class="face keeps drawn" width={W + 20} height={H + 28} viewBox={`-10 -14 ${W + 20} ${H + 28}`} role="img" aria-label={title}>
      <rect class="outline" x="0" y="0" width={W} height={H} />
      {layOut(lines.map(({ code }) => code)).map(([x1, y1, x2, y2], i) => {
        const line = lines[i]!
        const long = Math.hypot(x2 - x1, y2 - y1)
        const bow = line.gap === null ? 0 : Math.min(20, (line.gap * magnified * 96) / 25.4)
        const [mx, my] = [(x1 + x2) / 2 - ((y2 - y1) / long) * bow * 2, (y1 + y2) / 2 + ((x2 - x1) / long) * bow * 2]
        return (
          <g key={line.code} class={`face-line${line.beyond ? ' is-beyond' : ''}${line.gap === null ? ' is-unread' : ''}`}>
            {bow > 0 && <path class="gap blue-line" d={`M${x1} ${y1}Q${mx} ${my} ${x2} ${y2}Z`} />}
            <path class="edge" d={`M${x1} ${y1}L${x2} ${y2}`} />
          </g>
        )
      })}
    </svg>
  )
}

type Ends = [number, number, number, number]

/** Where each line lies on the face, from its code: long ones along, cross ones over, diagonals from corner to corner. */
export function layOut(codes: readonly string[]): Ends[] {
  const sorts = codes.map((code) => (/diag/.test(code) ? 'diagonal' : /cross|across/.test(code) ? 'cross' : 'long'))
  const of = (sort: string) => sorts.filter((other) => other === sort).length
  const seen: Record<string, number> = {}
  return sorts.map((sort) => {
    const n = (seen[sort] = (seen[sort] ?? 0) + 1)
    if (sort === 'diagonal') return n % 2 ? [8, 8, W - 8, H - 8] : [8, H - 8, W - 8, 8]
    if (sort === 'cross') {
      const x = (W * n) / (of('cross') + 1)
      return [x, 6, x, H - 6]
    }
    const y = of('long') === 2 ? (n === 1 ? 16 : H - 16) : (H * n) / (of('long') + 1)
    return [6, y, W - 6, y]
  })
}
