import { useAct } from "../../client/useAct.ts"

/** What can be done with logbook files. */
export const useDesk = () => ({
  sample: useAct("desk.sample"),
  open: useAct("desk.open"),
  make: useAct("desk.new"),
})
