// @ts-check
// One call to the server. All addresses are relative: the page's own address
// carries the token.

/**
 * What a refusal says: the words, the input they are about, the files that are there.
 * @typedef {{error?: string, field?: string, exists?: string[]}} Refused
 */

// Refusal is a refusal in words; field names the input it is about. The status
// is 0 where the server does not answer.
export class Refusal extends Error {
  /**
   * @param {string} message
   * @param {number} status
   * @param {Refused | null} [body]
   */
  constructor(message, status, body) {
    super(message);
    this.status = status;
    this.field = body?.field ?? '';
    this.exists = body?.exists ?? [];
  }
}

/**
 * call asks the server; gone says what to do where it does not answer.
 * @template T
 * @param {string} path
 * @param {RequestInit} options
 * @param {string} gone
 * @returns {Promise<T>}
 */
export async function call(path, options, gone) {
  let answer;
  try {
    answer = await fetch(path, options);
  } catch (e) {
    if (isAborted(e)) throw e;
    throw new Refusal(`padband does not answer: is it still running? ${gone}`, 0);
  }
  const body = await answer.json().catch(() => null);
  if (!answer.ok) throw new Refusal(body?.error || `padband refused this (${answer.status})`, answer.status, body);
  return body;
}

/**
 * json is a call's options with a body.
 * @param {unknown} body
 * @param {AbortSignal} [signal]
 * @returns {RequestInit}
 */
export function json(body, signal) {
  return { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body), signal };
}

/**
 * isAborted is whether the page itself gave a call up.
 * @param {unknown} e
 */
export function isAborted(e) {
  return e instanceof Error && e.name === 'AbortError';
}
