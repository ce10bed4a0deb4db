/** The desk's server, as typed calls. */
import { fill, texts } from '../texts';
import type { components } from '../api';

export type Problem = components['schemas']['Problem'];

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

/** Send a value (or a file as it is), and give the answer. */
export async function send<T>(method: string, address: string, body: unknown): Promise<T> {
  const isFile = body instanceof Blob;
  const headers: HeadersInit = isFile ? {} : { 'Content-Type': 'application/json' };
  const sent = isFile ? body : JSON.stringify(body);
  return (await reach(address, { method, body: sent, headers })).json() as Promise<T>;
}
