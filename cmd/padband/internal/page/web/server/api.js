// Calls to the server. All addresses are relative: the page's own address
// carries the token.

// Failure is a refusal in words; field names the input it is about.
export class Failure extends Error {
  constructor(message, status, body) {
    super(message);
    this.status = status;
    this.field = body && body.field;
    this.exists = body && body.exists;
  }
}

async function call(path, options = {}) {
  let answer;
  try {
    answer = await fetch(path, options);
  } catch (e) {
    if (e.name === 'AbortError') throw e;
    throw new Failure('padband does not answer: is it still running? Start it again and open the address it prints', 0);
  }
  const body = await answer.json().catch(() => null);
  if (!answer.ok) throw new Failure((body && body.error) || `padband refused this (${answer.status})`, answer.status, body);
  return body;
}

function post(path, body, signal) {
  return call(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body), signal });
}

const photo = (id) => `api/photos/${encodeURIComponent(id)}`;

// asked is what readings are set against, and the units they are said in too.
export const asked = { limits: [], units: [] };

export const start = () => call('api/start');
export const charts = () => call('api/charts');
export const chart = (name) => call(`api/charts/${encodeURIComponent(name)}`);
export const describe = (typed) => post('api/charts', typed);
export const edge = (id, x, y) => post(`${photo(id)}/edge`, { x, y });
export const layout = (id, marks, chart) => post(`${photo(id)}/layout`, { marks, chart });
export const reading = (id, marks, chart, signal) => post(`${photo(id)}/reading`, { marks, chart, ask: asked }, signal);
export const save = (id, marks, chart, force) => post(`${photo(id)}/save`, { marks, chart, force, ask: asked });
export const files = (id, marks, chart) => post(`${photo(id)}/files`, { marks, chart, force: false, ask: asked });

// plain leaves out of a file's name what no header may hold.
const plain = (name) => (name || '').replace(/[\x00-\x1f\x7f]/g, '');

// keep sends the work first, then the further photos as they are.
export function keep(id, work, files) {
  const body = new FormData();
  body.append('work', JSON.stringify({ ...work, ask: asked }));
  for (const { kind, file } of files) body.append(kind, file, plain(file.name) || 'photo');
  return call(`${photo(id)}/keep`, { method: 'POST', body });
}

// send hands the photo's bytes over as they are.
export const send = (file) => call(`api/photos?name=${encodeURIComponent(file.name || 'photo')}`, { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file });

export const plan = (name) => `api/charts/${encodeURIComponent(name)}/plan`;
export const preview = (id) => `${photo(id)}/preview`;
export const part = (id, x, y, w, h, to) => `${photo(id)}/part?x=${x.toFixed(1)}&y=${y.toFixed(1)}&w=${w.toFixed(1)}&h=${h.toFixed(1)}&to=${Math.round(to)}`;
