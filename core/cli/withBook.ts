import type { BookHandlers, CallContext } from "../../shared/api.ts"
import { answerAsk } from "../questions/ask.ts"
import { openBook } from "../service/open.ts"
import { makeService } from "../service/service.ts"
import type { Logbook } from "../store/logbook.ts"

/**
 * Opens a logbook for one command and closes it afterwards. What follows from a change is worked out before it closes, as
 * there is no background to a command.
 */
export async function withBook<T>(
  file: string,
  context: CallContext,
  act: (book: Logbook, service: BookHandlers) => Promise<T>,
): Promise<T> {
  const book = await openBook(file)
  const before = book.version()
  const service = makeService(
    book,
    async (facts, ask, reader) => answerAsk(facts, ask, reader),
    () => undefined,
  )
  try {
    const result = await act(book, service)
    if (book.version() !== before) await service["conditions.settled"]({}, context)
    return result
  } finally {
    book.close()
  }
}
