/** The desk's server, as typed calls. */
import { fill, texts } from '../texts';
import type { components } from '../api';

export type Problem = components['schemas']['Problem'];
export type Desk = components['schemas']['Desk'];

/** The server said no, or did not answer; `problem` is what to show. */
export class Refusal extends Error {
  constructor(readonly problem: Problem) {
    super(problem.what);
  }
}

async function reach(address: string, request?: RequestInit): Promise<Response> {
  const silence = { what: texts.shell.silent, where: '', remedy: texts.shell.silentRemedy };
  let response: Response;
  try {
    response = await fetch(address, request);
  } catch {
    throw new Refusal(silence);
  }
  if (response.ok) return response;
  const body: unknown = await response.json().catch(() => null);
  const what = fill(texts.shell.refused, { status: response.status });
  throw new Refusal(isProblem(body) ? body : { ...silence, what });
}

function isProblem(body: unknown): body is Problem {
  return typeof body === 'object' && body !== null && 'what' in body;
}

export function toProblem(error: unknown): Problem {
  if (error instanceof Refusal) return error.problem;
  return { what: String(error), where: '', remedy: texts.shell.fault };
}

/** Ask for a value. */
export async function ask<T>(address: string): Promise<T> {
  return (await reach(address)).json() as Promise<T>;
}

/** Ask for a text, as a page's SVG. */
export async function askText(address: string): Promise<string> {
  return (await reach(address)).text();
}

/** Ask for bytes; `signal` lets go of them. */
export async function askBytes(address: string, signal: AbortSignal): Promise<ArrayBuffer> {
  return (await reach(address, { signal })).arrayBuffer();
}

/** The header of an answer to a change that carries how the desk stands after it. */
const DESK_HEADER = 'wayfold-desk';

/**
 * Send a value (or a file as it is), and give the answer. Who wants to `hear` how the desk stands
 * after it is told so.
 */
export async function send<T>(
  method: string,
  address: string,
  body: unknown,
  hear?: (desk: Desk) => void,
): Promise<T> {
  const isFile = body instanceof Blob;
  const headers: HeadersInit = isFile ? {} : { 'Content-Type': 'application/json' };
  const sent = isFile ? body : JSON.stringify(body);
  const answer = await reach(address, { method, body: sent, headers });
  const value = (await answer.json()) as T;
  const desk = answer.headers.get(DESK_HEADER);
  if (hear && desk) hear(JSON.parse(decodeURIComponent(desk)) as Desk);
  return value;
}
