import "./jitless.ts"
import "./style/fonts.css"
import "./style/paper.css"
import "./style/type.css"
import "./style/controls.css"
import "./style/frame.css"
import "./style/answer.css"
import "./style/files.css"
import "./style/trips.css"
import "./style/season.css"
import "./style/trip.css"
import "./style/fields.css"
import "./style/tackle.css"
import "./style/spots.css"
import "./style/roster.css"
import "./style/day.css"
import "./style/sheet.css"
import "./style/tape.css"
import "./style/card.css"
import { StrictMode } from "react"
import { createRoot } from "react-dom/client"
import { App } from "./app/App.tsx"
import { openPort } from "./client/openPort.ts"
import { connect } from "../shared/rpc.ts"

const page = document.getElementById("page")
if (page === null) throw new Error("index.html has no #page")
const { port, gone } = openPort()
createRoot(page).render(
  <StrictMode>
    <App client={connect(port)} gone={gone} />
  </StrictMode>,
)
