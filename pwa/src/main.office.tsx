import './look/look.css'
import './office/frame/frame.css'
import './office/frame/pages.css'
import './office/frame/forms.css'
import './office/frame/tables.css'
import './office/frame/facts.css'
import './trade/ground/tables.ts'
import { render } from 'preact'
import { App } from './office/App.tsx'

const place = document.getElementById('office')
if (place) render(<App />, place)
