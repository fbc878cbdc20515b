import { api, type CallContext, type Handlers, type Input, type MethodName, type Output } from "./api.ts"
import { Problem, ProblemError } from "./problems.ts"

/** One message between a page, or any other client, and the core. Hosts pass it on without reading it. */
export type Envelope =
  | { readonly t: "call"; readonly id: number; readonly method: string; readonly input: unknown }
  | { readonly t: "cancel"; readonly id: number }
  | { readonly t: "ok"; readonly id: number; readonly output: unknown }
  | { readonly t: "problem"; readonly id: number; readonly problem: Problem }
  | { readonly t: "progress"; readonly id: number; readonly done: number; readonly of: number }
  | { readonly t: "changed"; readonly version: number }

/** All that a host must offer: a way to send a message and a way to hear them. `hear` returns how to stop. */
export type Port = {
  send(message: Envelope): void
  hear(listener: (message: Envelope) => void): () => void
}

/** What a caller may ask for besides an answer. */
export type CallOptions = {
  readonly signal?: AbortSignal
  readonly progress?: (done: number, of: number) => void
}

export type Client = {
  /** Calls a method; rejects with a ProblemError when the core could not do it. */
  call<M extends MethodName>(method: M, input: Input<M>, options?: CallOptions): Promise<Output<M>>
  /** Hears of every change of the logbook; returns how to stop. */
  onChanged(listener: (version: number) => void): () => void
  close(): void
}

const isMethod = (name: string): name is MethodName => Object.hasOwn(api, name)

/** Turns whatever was thrown into a problem; what nobody expected becomes `internal` with its message. */
export function problemOf(error: unknown): Problem {
  if (error instanceof ProblemError) return error.problem
  if (error instanceof Error && error.name === "AbortError")
    return { code: "cancelled", message: "Cancelled; nothing was changed.", details: {} }
  const message = error instanceof Error ? error.message : String(error)
  return { code: "internal", message: `Something went wrong inside Stintbook: ${message}`, details: {} }
}

/**
 * Answers the calls that come over a port. The input of every call is parsed here, once: to the core a client is a
 * stranger. Returns how to stop serving; calls under way are then cancelled.
 */
export function serve(port: Port, handlers: Handlers): () => void {
  const running = new Map<number, AbortController>()
  const stop = port.hear((message) => {
    if (message.t === "cancel") running.get(message.id)?.abort()
    if (message.t === "call") void answer(message.id, message.method, message.input)
  })
  return () => {
    stop()
    for (const controller of running.values()) controller.abort()
  }

  async function answer(id: number, method: string, input: unknown): Promise<void> {
    const controller = new AbortController()
    running.set(id, controller)
    try {
      const output = await dispatch(handlers, method, input, {
        signal: controller.signal,
        progress: (done, of) => port.send({ t: "progress", id, done, of }),
      })
      port.send({ t: "ok", id, output })
    } catch (error) {
      port.send({ t: "problem", id, problem: problemOf(error) })
    } finally {
      running.delete(id)
    }
  }
}

async function dispatch(
  handlers: Handlers,
  method: string,
  input: unknown,
  context: CallContext,
): Promise<unknown> {
  if (!isMethod(method))
    throw new ProblemError("unknown_method", `There is no method "${method}".`, { method })
  return callParsed(handlers, method, input, context)
}

async function callParsed<M extends MethodName>(
  handlers: Handlers,
  method: M,
  input: unknown,
  context: CallContext,
): Promise<Output<M>> {
  const parsed = api[method].input.safeParse(input)
  if (!parsed.success) {
    const message = parsed.error.issues.map((issue) => issue.message).join(" ")
    throw new ProblemError("bad_input", message, { method, issues: parsed.error.issues })
  }
  return handlers[method](parsed.data, context)
}

/** The other end: typed calls over a port. */
export function connect(port: Port): Client {
  let last = 0
  const waiting = new Map<
    number,
    { resolve(output: unknown): void; reject(error: Error): void; options: CallOptions; method: MethodName }
  >()
  const listeners = new Set<(version: number) => void>()
  const stop = port.hear((message) => {
    switch (message.t) {
      case "changed":
        for (const listener of listeners) listener(message.version)
        return
      case "progress":
        waiting.get(message.id)?.options.progress?.(message.done, message.of)
        return
      case "ok":
        waiting.get(message.id)?.resolve(message.output)
        waiting.delete(message.id)
        return
      case "problem": {
        const { code, message: text, details } = message.problem
        // The id 0 belongs to no call: the core was started again, and nothing that was asked before will be answered.
        if (message.id === 0) {
          for (const call of waiting.values()) call.reject(new ProblemError(code, text, details))
          waiting.clear()
          for (const listener of listeners) listener(0)
          return
        }
        waiting.get(message.id)?.reject(new ProblemError(code, text, details))
        waiting.delete(message.id)
        return
      }
      case "call":
      case "cancel":
        return
    }
  })
  return {
    call: async (method, input, options = {}) => {
      const id = ++last
      const output = await new Promise<unknown>((resolve, reject) => {
        waiting.set(id, { resolve, reject, options, method })
        options.signal?.addEventListener("abort", () => port.send({ t: "cancel", id }), { once: true })
        port.send({ t: "call", id, method, input })
      })
      return api[method].output.parse(output)
    },
    onChanged: (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    close: stop,
  }
}
