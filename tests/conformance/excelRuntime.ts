import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import vm from "node:vm";

/** What Excel would receive for one call. */
export interface Received {
  /** Present where the call failed as a whole: Excel's number of the error (7 is #VALUE!, 1 is #N/A) and its sentence. */
  readonly error?: { readonly code: number; readonly message?: string };
  readonly value?: unknown;
}

/** Excel's own script for custom functions with our bundle in it, driven through a stand-in for the native side. */
export interface ExcelRuntime {
  /** Ids given with `CustomFunctions.associate`. */
  readonly associated: readonly string[];
  /** Calls a function with arguments as JSON carries them, as Excel does. */
  call(id: string, args: readonly unknown[], address?: string): Promise<Received>;
  /** Calls many in one batch. */
  callAll(calls: readonly { readonly id: string; readonly args: readonly unknown[]; readonly address?: string }[]): Promise<readonly Received[]>;
  /** Whether the bundle asked for `CustomFunctions.Error` or its codes while it loaded, when Excel does not have them yet. */
  readonly errorsTouchedAtLoad: boolean;
}

/** Flags of a call: bit 2 says that error cells may be among the arguments. */
const PASS_ERRORS = 4;

const BUILT_IN = "Array, ArrayBuffer, Error, Float64Array, Infinity, JSON, Map, Math, NaN, Number, Object, RegExp, Set, String, TypeError, Uint32Array, Uint8Array, isNaN";

/**
 * Loads the platform's `custom-functions-runtime.js` and then the bundle.
 *
 * @param bundle Text of the built functions bundle.
 */
export function loadExcelRuntime(bundle: string): ExcelRuntime {
  const path = createRequire(import.meta.url).resolve("@microsoft/office-js/dist/custom-functions-runtime.js");
  const waiting = new Map<number, (received: Received) => void>();
  const element = () => ({ appendChild: () => undefined, setAttribute: () => undefined, style: {} });
  const storage = () => ({ getItem: () => null, setItem: () => undefined, removeItem: () => undefined });
  const window: Record<string, unknown> = {
    console: { log: () => undefined, warn: () => undefined, error: () => undefined, info: () => undefined },
    // While it loads, the script sets timers that wait for the rest of Office; there is none here.
    setTimeout: () => 0,
    setInterval: () => 0,
    clearTimeout,
    clearInterval,
    history: {},
    location: { href: "https://localhost/taskpane.html", search: "", hash: "", protocol: "https:", hostname: "localhost", origin: "https://localhost" },
    navigator: { userAgent: "Node", platform: "Node" },
    sessionStorage: storage(),
    localStorage: storage(),
    document: {
      getElementsByTagName: (tag: string) => (tag === "script" ? [{ src: "https://localhost/custom-functions-runtime.js", getAttribute: () => null }] : [element()]),
      createElement: element,
      addEventListener: () => undefined,
      head: element(),
      body: element(),
      readyState: "complete",
    },
    addEventListener: () => undefined,
    removeEventListener: () => undefined,
  };
  for (const name of ["window", "self", "top", "parent", "globalThis"]) window[name] = window;
  const context = vm.createContext(window);
  const bridge = {
    onMessageFromHost: undefined as ((text: string) => void) | undefined,
    sendMessageToHost(text: string) {
      const { id, message } = JSON.parse(text) as { id: number; message?: { body?: RequestBody } };
      const actions = message?.body?.Actions ?? [];
      for (const action of actions) {
        if (action.Name !== "SetInvocationArrayResults") continue;
        for (const [callId, succeeded, value, code] of action.ArgumentInfo.Arguments[0]) {
          waiting.get(callId)?.(succeeded ? { value: readErrors(value) } : { error: { code: code as number, message: typeof value === "string" ? value : undefined } });
          waiting.delete(callId);
        }
      }
      const body = JSON.stringify({ Results: actions.map((action) => ({ ActionId: action.Id, Value: {} })) });
      setTimeout(() => bridge.onMessageFromHost?.(JSON.stringify({ id, type: 2, message: { statusCode: 200, headers: {}, body } })), 0);
    },
  };
  window._richApiNativeBridge = bridge;
  vm.runInContext(readFileSync(path, "utf8"), context, { filename: "custom-functions-runtime.js" });
  // It waits up to half a second between two answers to Excel; tests need not.
  window.setTimeout = (run: (...rest: unknown[]) => void, delay: number, ...rest: unknown[]) => setTimeout(run, Math.min(delay, 1), ...rest);

  // The bundle must load where the error class does not exist yet: Excel adds it with the host's own script.
  const associated: string[] = [];
  const custom = window.CustomFunctions as { associate: (id: string, f: unknown) => void; Error: unknown; ErrorCode: unknown };
  const associate = custom.associate.bind(custom);
  const { Error: errorClass, ErrorCode: errorCodes } = custom;
  let errorsTouchedAtLoad = false;
  const trap = { configurable: true, get: () => ((errorsTouchedAtLoad = true), undefined) };
  Object.defineProperty(custom, "Error", trap);
  Object.defineProperty(custom, "ErrorCode", trap);
  custom.associate = (id, f) => {
    associated.push(id);
    associate(id, f);
  };
  // A context looks its global names up slowly; as parameters the built-in ones are as fast as in a browser.
  vm.runInContext(`(function (${BUILT_IN}) {${bundle}\n})(${BUILT_IN})`, context, { filename: "functions.js" });
  custom.associate = associate;
  Object.defineProperty(custom, "Error", { configurable: true, writable: true, value: errorClass });
  Object.defineProperty(custom, "ErrorCode", { configurable: true, writable: true, value: errorCodes });

  let serial = 0;
  const callAll: ExcelRuntime["callAll"] = (calls) => {
    const entries: unknown[] = [];
    const results = calls.map(({ id, args, address = "Sheet1!A1" }) => {
      const callId = ++serial;
      entries.push([1, 1000, "", [callId, id, args, address, PASS_ERRORS, []], 0]);
      return new Promise<Received>((resolve) => waiting.set(callId, resolve));
    });
    // Excel's message travels as text: what JSON cannot carry does not arrive.
    bridge.onMessageFromHost?.(JSON.stringify({ type: 3, message: { entries } }));
    return Promise.all(results);
  };
  return {
    associated,
    errorsTouchedAtLoad,
    call: async (id, args, address) => (await callAll([{ id, args, address }]))[0],
    callAll,
  };
}

interface RequestBody {
  readonly Actions: readonly {
    readonly Id: number;
    readonly Name: string;
    readonly ArgumentInfo: { readonly Arguments: readonly (readonly [number, boolean, unknown, unknown][])[] };
  }[];
}

/** Error cells as Excel would show them. */
export interface ErrorCell {
  readonly error: string;
  readonly message?: string;
}

function readErrors(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(readErrors);
  if (typeof value !== "object" || value === null) return value;
  const cell = value as { valueType?: string; type?: string; code?: string; message?: string };
  return cell.type === "Error" || cell.valueType === "CustomFunctionError" ? { error: cell.code, message: cell.message } : value;
}
