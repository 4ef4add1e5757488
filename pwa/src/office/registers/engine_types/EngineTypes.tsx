import { FromFile } from '../../frame/FromFile.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { EngineDrawing } from '../../../parts/engine/EngineDrawing.tsx'
import { drawingOf } from '../../../parts/engine/engine_drawings.ts'
import { EmptyNotice, FaultNotice } from '../../frame/notices.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address, go, route } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import type { EngineType } from '../../frame/shapes.ts'
import { postFile } from '../../frame/api.ts'
import { toForm, usual, type Typed } from './form.ts'
import { TypeForm } from './TypeForm.tsx'
import { layoutWords } from './layout_words.ts'
import { Limits } from '../measuring/Limits.tsx'
import { Sheets } from '../tightening/Sheets.tsx'
import { TypeView } from './TypeView.tsx'
import './types.css'

/** The engine types of the workshop, and the pages under each. */
export function EngineTypes() {
  const [, id, leaf] = route.value.path
  const [fromFile, setFromFile] = useState<Typed | null>(null)
  const { data, error, reload } = useGet<{ engine_types: EngineType[] }>('/api/engine-types')
  const types = data?.engine_types ?? []
  const type = types.find((listed) => listed.id === id)
  const onSaved = (saved: EngineType) => {
    setFromFile(null)
    reload()
    go(['engine-types', saved.id])
  }
  if (id === 'new' && isManager.value) return <TypeForm start={fromFile ?? usual('inline', 4)} onSaved={onSaved} />
  if (id && !data && !error) return <p class="opening">{say('engine_types.opening')}</p>
  if (type && leaf === 'edit' && isManager.value) return <TypeForm start={toForm(type)} onSaved={onSaved} />
  if (type && leaf === 'limits') return <Limits type={type} />
  if (type && leaf === 'tightening') return <Sheets type={type} />
  if (type) return <TypeView type={type} />
  const fault = error?.message || (id && data ? say('engine_types.not_found') : '')
  return <TypeList types={types} loaded={Boolean(data)} fault={fault} startFrom={setFromFile} />
}

interface ListProps {
  types: EngineType[]
  loaded: boolean
  fault: string
  startFrom: (typed: Typed | null) => void
}

function TypeList({ types, loaded, fault, startFrom }: ListProps) {
  const acts = isManager.value && (
    <>
      <FromFile
        label={say('engine_types.file')}
        unreadable={say('engine_types.file_unreadable')}
        read={async (text) => {
          const answer = await postFile<{ engine_type: EngineType }>('/api/engine-types/read-file', text)
          startFrom(toForm(answer.engine_type))
          go(['engine-types', 'new'])
        }}
      />
      <a class="act main-act" href={address(['engine-types', 'new'])} onClick={() => startFrom(null)}>
        {say('engine_types.new')}
      </a>
    </>
  )
  return (
    <section class="page types-page" aria-labelledby="types-title">
      <PageHead id="types-title" title={say('engine_types.title')} acts={acts} />
      <FaultNotice>{fault}</FaultNotice>
      {loaded && types.length === 0 && <EmptyNotice>{say('engine_types.none_yet')}</EmptyNotice>}
      <ul class="types thick-over">
        {types.map((type) => (
          <li class="line-under" key={type.id}>
            <a href={address(['engine-types', type.id])}>
              <Miniature type={type} />
              <span class="types-name bold larger">{type.name}</span>
              <span class="soft">{layoutWords(type)}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** The block without its buttons, as a picture of the type; its name is beside it. */
function Miniature({ type }: { type: EngineType }) {
  return (
    <span class="miniature centred" aria-hidden="true" inert>
      <EngineDrawing drawing={drawingOf(type)} title={type.name} nameOf={(code) => code} onChoose={() => undefined} />
    </span>
  )
}
