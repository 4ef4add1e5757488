import { FromFile } from '../../frame/FromFile.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { EngineDrawing } from '../../../parts/engine/EngineDrawing.tsx'
import { drawingOf } from '../../../parts/engine/engine_drawings.ts'
import { Empty, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { address, go, route } from '../../frame/route.ts'
import { isManager } from '../../frame/session.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { postFile } from '../../frame/api.ts'
import { toForm, usual, type Typed } from './form.ts'
import { TypeForm } from './TypeForm.tsx'
import { inWords } from './inWords.ts'
import { Limits } from '../measuring/Limits.tsx'
import { Sheets } from '../tightening/Sheets.tsx'
import { TypeView } from './TypeView.tsx'

/** The engine types of the workshop: the drawings everything else hangs on. */
export function EngineTypes() {
  const [, id, leaf] = route.value.path
  const [taken, setTaken] = useState<Typed | null>(null)
  const { told, trouble, again } = useAsk<{ engine_types: EngineType[] }>('/api/engine-types')
  const types = told?.engine_types ?? []
  const one = types.find((type) => type.id === id)
  const saved = (type: EngineType) => {
    setTaken(null)
    again()
    go(['engine-types', type.id])
  }
  if (id === 'new' && isManager.value) return <TypeForm start={taken ?? usual('inline', 4)} saved={saved} />
  if (id && !told && !trouble) return <p class="opening">Opening the drawing.</p>
  if (one && leaf === 'edit' && isManager.value) return <TypeForm start={toForm(one)} saved={saved} />
  if (one && leaf === 'limits') return <Limits type={one} />
  if (one && leaf === 'tightening') return <Sheets type={one} />
  if (one) return <TypeView type={one} />
  return (
    <section class="page types-page" aria-labelledby="types-title">
      <PageHead
        id="types-title"
        title="Engine types"
        acts={
          <>
            {isManager.value && (
              <FromFile
                holds="Engine type"
                read={async (text) => {
                  const told = await postFile<{ engine_type: EngineType }>('/api/engine-types/read-file', text)
                  setTaken(toForm(told.engine_type))
                  go(['engine-types', 'new'])
                }}
              />
            )}
            {isManager.value && (
              <a class="act main-act" href={address(['engine-types', 'new'])} onClick={() => setTaken(null)}>
                New engine type
              </a>
            )}
          </>
        }
      />
      <Fault>{trouble?.message || (id && told && !one ? 'There is no such engine type here.' : '')}</Fault>
      {told && types.length === 0 && (
        <Empty>None yet. Make one, or take one from a file another workshop gave you.</Empty>
      )}
      <ul class="types">
        {types.map((type) => (
          <li key={type.id}>
            <a href={address(['engine-types', type.id])}>
              <Miniature type={type} />
              <span class="types-name">{type.name}</span>
              <span class="soft">{inWords(type)}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** The block without its buttons: a picture of the type, its name stands beside it. */
function Miniature({ type }: { type: EngineType }) {
  return (
    <span class="miniature" aria-hidden="true" inert>
      <EngineDrawing drawing={drawingOf(type)} title={type.name} nameOf={(code) => code} onChoose={() => undefined} />
    </span>
  )
}
