import { scale } from "../../../shared/answer.ts"
import { lengthTypeMeaning } from "../../../shared/lengthTypes.ts"
import { commands, type Command } from "../../../shared/commands.ts"
import { keyName } from "../../app/actions.tsx"
import { addressOf } from "../../app/route.ts"
import { CommandKey } from "../../parts/CommandKey.tsx"

const menus: readonly { readonly menu: Command["menu"]; readonly title: string }[] = [
  { menu: "View", title: "Go and find" },
  { menu: "Log", title: "Keep the log" },
  { menu: "File", title: "Logbooks and tables" },
  { menu: "Answer", title: "With an answer" },
  { menu: "Help", title: "Help" },
]

/** Words, how to read an answer, and every key. */
export function Help() {
  return (
    <article>
      <div className="text">
        <h1>Help</h1>
        <p>
          To log a day: <a href={addressOf({ at: "tape-help" })}>How a day is typed</a>{" "}
          <CommandKey id="go.tape_help" />, on one page, with examples.
        </p>
        <h2>Words</h2>
        <p>
          A <b>trip</b> is one outing, a <b>stop</b> one visit to one spot in it, a <b>stint</b> a stretch of
          a stop with one presentation: the unit of effort, blank ones counted. Effort is <b>rod-hours</b>:
          hours actually fished times rods. A <b>presentation</b> is lure, rig and retrieve together. Each{" "}
          <b>strike</b> has a fate: missed, lost, bitten off or landed. What was not counted is unknown, and
          unknown is never taken for zero.
        </p>
        <p>
          <b>Total length</b> is measured {lengthTypeMeaning.total}; <b>fork length</b>{" "}
          {lengthTypeMeaning.fork}. The two are never turned into one another here.
        </p>
        <h2>How to read an answer</h2>
        <p>
          It leads with a sentence about the two levels you fished most, on the scale below, and on the
          fairest basis that the logbook carries: the same stops, else the same trips, else all trips with
          season, light, tide, water temperature, angler, order in the stop and spot held alike where there is
          enough data, else as fished. The other bases stand beside it as agreeing or differing, and why. What
          to hold alike is chosen by what is known, never by how it comes out. Every dot has its 95% interval;
          the dashes beneath show what would have been claimed if every fish came alone. Fish of one good day
          are one piece of luck, so trips are the sample, and intervals are wider than a pivot table's. An
          open dot stands on fewer than twelve trips.
        </p>
        <table>
          <caption>The scale of words</caption>
          <tbody>
            {scale.map(({ word, when }) => (
              <tr key={word}>
                <th scope="row" className="name">
                  {word}
                </th>
                <td className="words">{when}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p>
          q is the chance of a false alarm after allowing for all pairs looked at. No word says what causes
          what: a logbook is no experiment.
        </p>
        <h2>The day strip</h2>
        <p>
          One day from first light to last: the predicted tide as a line, night and twilight shaded, stints as
          bars named by their lure class, fish as marks. Tide is vertical and current horizontal; the strip
          shows the tide only.
        </p>
        <h2>Keys</h2>
        <p>
          Tab moves between controls, arrows within a list or a table of trips, Enter opens, Escape closes.
          Single letters and signs wait while something is being typed.
        </p>
      </div>
      <div className="keys">
        {menus.map(({ menu, title }) => (
          <section key={menu}>
            <table>
              <caption>{title}</caption>
              <tbody>
                {commands
                  .filter((command) => command.menu === menu)
                  .map((command) => (
                    <tr key={command.id}>
                      <th scope="row" className="name">
                        {command.label}
                      </th>
                      <td>
                        <kbd>{keyName(command)}</kbd>
                      </td>
                    </tr>
                  ))}
              </tbody>
            </table>
          </section>
        ))}
      </div>
    </article>
  )
}
