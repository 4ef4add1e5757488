import type { ComponentChildren } from 'preact'
import './signs.css'

/** Signs drawn for this app with a pen of one width. They stand beside words, so a screen reader passes over them. */
function Sign({ children, size = 30 }: { children: ComponentChildren; size?: number }) {
  return (
    <svg class="sign keeps hollow" width={size} height={size} viewBox="0 0 30 30" aria-hidden="true" focusable="false">
      {children}
    </svg>
  )
}

export interface SignProps {
  size?: number
}

export const Mouth = (p: SignProps) => (
  <Sign {...p}>
    <path d="M11 6.5a4 4 0 0 1 8 0v8a4 4 0 0 1-8 0zM6.5 14a8.5 8.5 0 0 0 17 0M15 22.5v4.5M10.5 27h9" />
  </Sign>
)

export const Camera = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3 9h6.5l2-3.5h7L20.5 9H27v16H3z" />
    <circle cx="15" cy="16.5" r="5" />
  </Sign>
)

export const Dimension = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3.5 7v16M26.5 7v16M4 15h22M9 11.5 4 15l5 3.5M21 11.5l5 3.5-5 3.5" />
  </Sign>
)

export const Fit = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3 15h24M5 6h8v9H5zM17 12h8v12h-8zM17 18l6-6M17 24l8-8" />
  </Sign>
)

export const Pencil = (p: SignProps) => (
  <Sign {...p}>
    <path d="m5 25 1.5-6.5L20 5l5 5-13.5 13.5zM17 8l5 5" />
  </Sign>
)

export const Spanner = (p: SignProps) => (
  <Sign {...p}>
    <path d="M10.3 3.8v5.7l4 2.3 4-2.3V3.8a7 7 0 0 1-1 12.2v8a3 3 0 0 1-6 0v-8a7 7 0 0 1-1-12.2z" />
  </Sign>
)

export const Glass = (p: SignProps) => (
  <Sign {...p}>
    <circle cx="13" cy="12.5" r="8" />
    <path d="m19 18.5 7 7" />
  </Sign>
)

export const Ticks = (p: SignProps) => (
  <Sign {...p}>
    <path d="m4 8 2.5 2.5L10.5 5M4 18.5 6.5 21l4-5.5M15 8.5h11M15 19h11" />
  </Sign>
)

export const Steps = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3 25h6.5v-6H16v-6h6.5V7H28" />
  </Sign>
)

export const Sheaf = (p: SignProps) => (
  <Sign {...p}>
    <path d="M7 3.5h11l5.5 5.5v17.5H7zM18 3.5V9h5.5M11 14.5h8.5M11 19.5h8.5" />
  </Sign>
)

export const Back = (p: SignProps) => (
  <Sign {...p}>
    <path d="M26 15H5M12.5 7 4.5 15l8 8" />
  </Sign>
)

export const Onward = (p: SignProps) => (
  <Sign {...p}>
    <path d="M4 15h21M17.5 7l8 8-8 8" />
  </Sign>
)

export const Cross = (p: SignProps) => (
  <Sign {...p}>
    <path d="m7 7 16 16M23 7 7 23" />
  </Sign>
)

export const Tick = (p: SignProps) => (
  <Sign {...p}>
    <path d="m5 16 7 7L25.5 7" />
  </Sign>
)

export const Play = (p: SignProps) => (
  <Sign {...p}>
    <path d="M9 5.5v19L24.5 15z" />
  </Sign>
)

export const Pause = (p: SignProps) => (
  <Sign {...p}>
    <path d="M10.5 6v18M19.5 6v18" />
  </Sign>
)

export const Stop = (p: SignProps) => (
  <Sign {...p}>
    <path class="solid" d="M7.5 7.5h15v15h-15z" />
  </Sign>
)

export const Lamp = (p: SignProps) => (
  <Sign {...p}>
    <path d="M10 12h10v13.5H10zM10 12 7.5 7h15L20 12M15 16v4M9.5 3.5 8.5 1.5M15 3V1M20.5 3.5l1-2" />
  </Sign>
)

export const Prints = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3.5 9.5h18v16h-18zM8 9.5V5h18.5v16H22M3.5 22l6-6.5 5 5 3-3 4 4" />
  </Sign>
)

export const Out = (p: SignProps) => (
  <Sign {...p}>
    <path d="M15 21V4.5M8.5 11 15 4.5l6.5 6.5M4 19v7h22v-7" />
  </Sign>
)

export const More = (p: SignProps) => (
  <Sign {...p}>
    <path d="M15 5v20M5 15h20" />
  </Sign>
)

export const RubOut = (p: SignProps) => (
  <Sign {...p}>
    <path d="M10.5 6.5H27v17H10.5L3 15zM15 11.5l7 7M22 11.5l-7 7" />
  </Sign>
)

export const Frame = (p: SignProps) => (
  <Sign {...p}>
    <path d="M3.5 10V3.5H10M20 3.5h6.5V10M26.5 20v6.5H20M10 26.5H3.5V20M15 10v10M10 15h10" />
  </Sign>
)

export const Ring = ({ size = 16 }: SignProps) => (
  <svg class="sign-ring keeps hollow" width={size} height={size} viewBox="0 0 16 16" aria-hidden="true" focusable="false">
    <circle cx="8" cy="8" r="5.75" />
  </svg>
)

export const Again = (p: SignProps) => (
  <Sign {...p}>
    <path d="M25 15a10 10 0 1 1-3.2-7.3M25.5 3v6.5H19" />
  </Sign>
)

export const TakeBack = (p: SignProps) => (
  <Sign {...p}>
    <path d="M9.5 4 4 10l5.5 6M4.5 10H18a7.5 7.5 0 0 1 0 15h-7" />
  </Sign>
)

/** The stroke of a vulgar fraction, and the gap before it. */
export const Stroke = (p: SignProps) => (
  <Sign {...p}>
    <path d="M19.5 4.5 10.5 25.5M4 6l3 -1.5v9M22.5 17.5q5 -1.5 4 2t-4.5 5h5" />
  </Sign>
)

export const Gap = (p: SignProps) => (
  <Sign {...p}>
    <path d="M5 15v6h20v-6" />
  </Sign>
)
