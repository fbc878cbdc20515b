import { Button } from "react-aria-components"
import { exampleCodes, tapeExamples } from "../../../shared/tapeHelp.ts"
import { addressOf } from "../../app/route.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"

/** How a day is typed, on one page: from nothing to a logged day. */
export default function TapeHelp() {
  return (
    <article className="tape-help">
      <h1>How a day is typed</h1>
      <p>
        <Button onPress={() => history.back()}>Back to where you were</Button>
      </p>
      <p className="after">
        A day is a few short lines. Each is read back in words beneath it while you type, and kept whenever
        you rest.
      </p>
      <div className="beside">
        <div>
          <h2>First, your own codes</h2>
          <p>
            Give each <a href={addressOf({ at: "spots" })}>spot</a>, each{" "}
            <a href={addressOf({ at: "tackle" })}>presentation</a> and each{" "}
            <a href={addressOf({ at: "roster" })}>species and angler</a> a short code of your own; one is
            suggested. You type codes, never long names.
          </p>
          <h2>Then the trip</h2>
          <p>
            In the <a href={addressOf({ at: "logbook" })}>logbook</a>, <CommandKey id="trip.today" /> begins a
            trip today and <CommandKey id="trip.yesterday" /> one yesterday. <CommandKey id="trip.new" />{" "}
            begins any other in one line: the day, when you began, where, who, and for what, in any order,
            such as <code>friday 620 md tob rd</code>. A day may also be <code>last friday</code>,{" "}
            <code>-7</code> (days ago) or <code>2026-05-15</code>. Then <CommandKey id="day.sheet" /> is its
            sheet and <CommandKey id="day.tape" /> its tape; both show the same day, and either may be typed.
          </p>
          {tapeExamples.map(({ title, text, lines }) => (
            <section key={title}>
              <h2>{title}</h2>
              <p>{text}</p>
              <table className="help-rows">
                <tbody>
                  {lines.map(({ typed, said }) => (
                    <tr key={typed}>
                      <th scope="row">
                        <code>{typed}</code>
                      </th>
                      <td className="words">{said}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </section>
          ))}
        </div>
        <aside>
          <h2 className="small-heading">Codes in the examples</h2>
          <ul className="plainlist small">
            {exampleCodes.map(({ code, name }) => (
              <li key={code}>
                <code>{code}</code> {name}
              </li>
            ))}
          </ul>
          <h2 className="small-heading">In the sheet</h2>
          <p>
            Its cells hold the same words, one column each: <code>mml rd24,22</code> under What came, without
            the dot, and <code>w71</code> under Readings.
          </p>
          <p>
            Type to replace. Tab goes on, Enter begins the next row. Left empty, spot and presentation carry
            on from above, and the next start ends a row.
          </p>
          <h2 className="small-heading">What was counted</h2>
          <p>
            Above the day stands what was counted. What is ticked there and not typed is none; what is not
            ticked is not known, and follows are not ticked at first. Tick them if you watched for them.
          </p>
          <h2 className="small-heading">When something is not clear</h2>
          <p>
            It is marked, with what it may be, and kept as you typed it until you mend it. Nothing else is
            held up by it.
          </p>
          <h2 className="small-heading">Mind</h2>
          <p>
            Predicted tides are not for navigation. Check the marine forecast and lightning. Limits you note
            are your own: the local agency&apos;s rules govern.
          </p>
        </aside>
      </div>
    </article>
  )
}
