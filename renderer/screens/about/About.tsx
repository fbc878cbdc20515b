import { lazy, Suspense } from "react"
import { useCall } from "../../client/useCall.ts"
import { Fold } from "../../parts/Fold.tsx"

/** The words of all licences come when they are unfolded. */
const Notices = lazy(() => import("./Notices.tsx"))

/** What this is, where its data come from, and what to mind. */
export function About() {
  const stations = useCall("stations.source", {})
  return (
    <article className="text">
      <h1>About Stintbook</h1>
      <p>
        A fishing log that keeps blank hours and can tell a pattern from a good day. It runs on this computer,
        from one file that is yours, and sends nothing anywhere.
      </p>
      <h2>Mind</h2>
      <p>
        Answers describe your own record; they do not promise fish, and a difference is not a cause. Tides and
        currents are predictions, not observations, and not for navigation: wind, air pressure, rivers and
        surge move real water. Check the marine forecast and lightning before you go and while you are out.
        Size, bag and season limits are the local agency's; what is noted here is your own note. Guiding
        follows the licence and the law of the place.
      </p>
      <h2>Licences and sources</h2>
      <p>Stintbook is free software under the MIT licence; the file LICENSE has its words.</p>
      {stations.value === null ? null : (
        <p>
          Tide and current stations: {stations.value.source}, {stations.value.licence},{" "}
          {stations.value.stations} stations, taken through {stations.value.through} of {stations.value.date}.
        </p>
      )}
      <p>
        Typefaces Inter and Source Serif, SIL Open Font License 1.1. Sun and moon by suncalc, time zones from
        the Timezone Boundary Builder.
      </p>
      <Fold title="Everything it is built on, and each licence in full">
        <Suspense fallback={null}>
          <Notices />
        </Suspense>
      </Fold>
    </article>
  )
}
