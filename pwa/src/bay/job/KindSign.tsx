import { Camera, Dimension, Glass, Mouth, Out, Pencil, Sheaf, Spanner, Steps, Tick } from '../../parts/controls/icons.tsx'

const SIGNS: Record<string, typeof Camera> = {
  photo_taken: Camera,
  sound_recorded: Mouth,
  transcript_made: Mouth,
  transcript_confirmed: Mouth,
  note_made: Pencil,
  measured: Dimension,
  fastener_tightened: Spanner,
  finding_made: Glass,
  stage_reached: Steps,
  checklist_ticked: Tick,
  pack_issued: Out,
}

/** The sign of a kind of record, as it stands in its balloon. */
export function KindSign({ kind, size = 22 }: { kind: string; size?: number }) {
  const Sign = SIGNS[kind] ?? Sheaf
  return <Sign size={size} />
}
