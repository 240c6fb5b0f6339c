// The service that the page came from, and no other. The key is kept here, for as long as the page is open.

/** A reply that is a problem [RFC 9457], or none at all. */
export class Refused extends Error {
  /** @param {number} status 0 when nothing answered */
  constructor(status, problem, wait = 0) {
    super(problem.detail ?? problem.title);
    this.status = status;
    this.errors = problem.errors ?? [];
    this.wait = wait;
  }
}

export class Service {
  #key = "";

  /** Take a key; "" for none. */
  use(key) {
    this.#key = key;
  }

  /** Ask for JSON. Raises Refused, or AbortError when the signal says so. */
  async json(path, body, signal) {
    return (await this._reply(path, body, "application/json", signal)).json();
  }

  /**
   * Ask for JSON that may take long, and be told how far it is. Raises Refused, also for what turns out on the way.
   * @param {(progress: {doing: string, done: number, of: ?number}) => void} tell
   */
  async told(path, body, tell, signal) {
    const reply = await this._reply(path, body, "application/x-ndjson", signal);
    let [rest, last] = ["", null];
    const take = (line) => {
      last = JSON.parse(line);
      if (last.doing) tell(last);
    };
    for await (const text of texts(reply.body)) {
      const lines = (rest + text).split("\n");
      rest = lines.pop();
      lines.forEach(take);
    }
    if (rest) take(rest);
    if (!last || last.doing) throw new Refused(0, { detail: "The reply broke off. What you typed is kept here; try again." });
    if (last.type && last.status) throw new Refused(last.status, last);
    return last;
  }

  /** Ask for a paper in the form given, such as image/svg+xml. Raises Refused. */
  async paper(path, body, form, signal) {
    return (await this._reply(path, body, form, signal)).blob();
  }

  async _reply(path, body, form, signal) {
    const headers = { Accept: `${form}, application/problem+json` };
    if (this.#key) headers.Authorization = `Bearer ${this.#key}`;
    const how = { headers, signal };
    if (body !== undefined) {
      headers["Content-Type"] = "application/json";
      Object.assign(how, { method: "POST", body: JSON.stringify(body) });
    }
    let reply;
    try {
      reply = await fetch(path, how);
    } catch (error) {
      if (error.name === "AbortError") throw error;
      throw new Refused(0, { detail: "The service does not answer. What you typed is kept here; try again." });
    }
    if (reply.ok) return reply;
    const wait = Number(reply.headers.get("Retry-After")) || 0;
    throw new Refused(reply.status, await problem(reply), wait);
  }
}

async function* texts(body) {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    yield value;
  }
}

async function problem(reply) {
  try {
    return await reply.json();
  } catch {
    return { detail: `The service answered with status ${reply.status} and nothing to read.` };
  }
}
