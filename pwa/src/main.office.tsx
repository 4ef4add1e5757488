import './trade/record/desk_fields.ts'
import { render } from 'preact'
import { App } from './office/App.tsx'

const place = document.getElementById('office')
if (place) render(<App />, place)
