import { useState } from 'preact/hooks'
import { PARTS } from '../../../trade/engine/parts.ts'
import type { Procedure } from '../../../trade/measuring/procedures.ts'
import type { ProcedureListed, Procedures as ProcedureRegister } from '../measuring/shapes.ts'
import { postFile } from '../../frame/api.ts'
import { FromFile } from '../../frame/FromFile.tsx'
import { FaultNotice } from '../../frame/notices.tsx'
import { PageHead } from '../../frame/PageHead.tsx'
import { useGet } from '../../frame/useGet.ts'
import { address, go, route } from '../../frame/route.ts'
import { say } from '../../frame/say.ts'
import { isManager } from '../../frame/session.ts'
import { sentence } from '../../frame/words.ts'
import { blank, nextEdition, ownFrom, toForm, type Typed } from './form.ts'
import { sizeWords } from './line_words.ts'
import { ProcedureForm } from './ProcedureForm.tsx'
import { ProcedureView } from './ProcedureView.tsx'
import './procedures.css'

/** How the workshop measures: procedures that come with the program, and its own. */
export function Procedures() {
  const [, code, leaf] = route.value.path
  const [fromFile, setFromFile] = useState<Typed | null>(null)
  const { data, error, reload } = useGet<ProcedureRegister>('/api/procedures')
  const all = data?.procedures ?? []
  const listed = all.find(({ procedure }) => procedure.code === code)
  const onSaved = (procedure: Procedure) => {
    setFromFile(null)
    reload()
    go(['procedures', procedure.code])
  }
  if (code === 'new' && isManager.value) return <ProcedureForm start={fromFile ?? blank()} onSaved={onSaved} />
  if (code && !data && !error) return <p class="opening">{say('procedures.opening')}</p>
  if (listed && isManager.value) {
    if (leaf === 'edit' && !listed.built_in) return <ProcedureForm start={nextEdition(listed.procedure)} onSaved={onSaved} />
    if (leaf === 'own') return <ProcedureForm start={ownFrom(listed.procedure)} onSaved={onSaved} />
  }
  if (listed) return <ProcedureView {...listed} />
  const fault = error?.message || (code && data ? say('procedures.not_found') : '')
  return <ProcedureList all={all} fault={fault} startFrom={setFromFile} />
}

interface ListProps {
  all: ProcedureListed[]
  fault: string
  startFrom: (typed: Typed | null) => void
}

function ProcedureList({ all, fault, startFrom }: ListProps) {
  const parts = [...new Set(all.map(({ procedure }) => procedure.part))]
  const acts = isManager.value && (
    <>
      <FromFile
        label={say('procedures.file')}
        unreadable={say('procedures.file_unreadable')}
        read={async (text) => {
          const { procedure } = await postFile<{ procedure: Procedure }>('/api/procedures/file', text)
          startFrom(toForm(procedure))
          go(['procedures', 'new'])
        }}
      />
      <a class="act main-act" href={address(['procedures', 'new'])} onClick={() => startFrom(null)}>
        {say('procedures.new')}
      </a>
    </>
  )
  return (
    <section class="page" aria-labelledby="procedures-title">
      <PageHead id="procedures-title" title={say('procedures.title')} acts={acts} />
      <p class="page-words">{say('procedures.intro')}</p>
      <FaultNotice>{fault}</FaultNotice>
      <div class="procedure-parts headed">
        {parts.map((part) => (
          <OfPart key={part} name={PARTS[part]?.name ?? part} procedures={all.filter(({ procedure }) => procedure.part === part)} />
        ))}
      </div>
    </section>
  )
}

function OfPart({ name, procedures }: { name: string; procedures: ProcedureListed[] }) {
  return (
    <section aria-label={name}>
      <h2>{sentence(name)}</h2>
      <ul>
        {procedures.map(({ procedure, built_in }) => (
          <li key={procedure.code}>
            <a href={address(['procedures', procedure.code])}>{procedure.name}</a>
            <span class="soft">
              {built_in ? sizeWords(procedure) : say('procedures.size_and_own', { size: sizeWords(procedure), edition: procedure.edition })}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}
