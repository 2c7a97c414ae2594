/**
 * A fake of the part of Office.js that `createOfficeHost` uses, with its manners: objects are proxies, nothing
 * happens before `sync`, a property that was not loaded throws, `…OrNullObject` says so only after a sync, requests
 * and responses above 5 MB are refused, errors carry Excel's codes.
 *
 * It calculates nothing: a formula stands as it was written. What is typed is read as Excel reads it where that
 * matters to us: a leading apostrophe, numbers, truth values and dates typed as text.
 */
export class FakeExcel {
  readonly workbook = new Store();
  /** One entry a sync: bytes sent and bytes received. */
  readonly syncs: { sent: number; received: number; calculationSuspended: boolean }[] = [];
  /** Set to fail the sync with this number (counted from one) with an Excel error code. */
  failAt: { sync: number; code: string } | undefined;
  /** Called for every cell that a range of formulas writes. */
  onWrite: ((cell: { sheet: string; row: number; column: number }) => void) | undefined;
  /** Called before each sync executes: a person acting meanwhile. */
  beforeSync: ((count: number) => void) | undefined;

  readonly run = async (first: unknown, second?: unknown): Promise<any> => {
    const work = (typeof first === "function" ? first : second) as (context: any) => Promise<any>;
    const context = new Context(this);
    const result = await work(context);
    await context.sync();
    return result;
  };
}

export const REQUEST_LIMIT = 5_000_000;

export class OfficeError extends Error {
  constructor(
    readonly code: string,
    message = code,
  ) {
    super(message);
  }
}

interface StoredTable {
  sheet: string;
  row: number;
  column: number;
  rows: number;
  columns: number;
}

interface FakePicture {
  readonly sheet: string;
  readonly base64: string;
  altText: string;
  name: string;
}

/** What the workbook holds. */
export class Store {
  readonly sheets = new Map<string, Map<string, any>>([["Sheet1", new Map()]]);
  readonly protectedSheets = new Set<string>();
  readonly tables = new Map<string, StoredTable>();
  readonly names = new Map<string, string>();
  readonly hidden = new Set<string>();
  pictures: FakePicture[] = [];
  active = { sheet: "Sheet1", row: 0, column: 0 };
  calculationState = "Done";
  readonly selectionHandlers = new Set<(event: any) => Promise<any>>();
  readonly changeHandlers = new Set<(event: any) => Promise<any>>();

  sheet(name: string): Map<string, any> {
    const sheet = this.sheets.get(name);
    if (!sheet) {
      throw new OfficeError("ItemNotFound");
    }
    return sheet;
  }
  get(sheet: string, row: number, column: number): any {
    return this.sheet(sheet).get(`${row},${column}`) ?? "";
  }
  set(sheet: string, row: number, column: number, typed: any): void {
    if (this.protectedSheets.has(sheet)) {
      throw new OfficeError("AccessDenied");
    }
    if (typed === null) {
      return;
    }
    if (typeof typed === "string" && typed.length > 32767) {
      throw new OfficeError("InvalidArgument");
    }
    this.sheet(sheet).set(`${row},${column}`, asTyped(typed));
  }
}

/** What Excel stores for typed input. */
function asTyped(typed: any): any {
  if (typeof typed !== "string") {
    return typed;
  }
  if (typed.startsWith("'")) {
    return typed.slice(1);
  }
  if (/^[=]/.test(typed)) {
    return typed;
  }
  if (/^[+@-]/.test(typed) && !/^[+-]?[\d.]+$/.test(typed)) {
    return `=${typed}`;
  }
  if (/^(true|false)$/i.test(typed)) {
    return typed.toLowerCase() === "true";
  }
  if (/^\d{1,4}[-/]\d{1,2}([-/]\d{1,4})?$/.test(typed) || /^\p{L}{3,9}[ -]\d{1,2}$/u.test(typed)) {
    return 45000;
  }
  return typed.trim() !== "" && Number.isFinite(Number(typed)) ? Number(typed) : typed;
}

class Context {
  readonly queue: (() => void)[] = [];
  readonly loads: (() => void)[] = [];
  sent = 0;
  received = 0;
  suspended = false;
  readonly workbook: any;

  constructor(readonly excel: FakeExcel) {
    this.workbook = workbookProxy(this);
  }

  async sync(): Promise<void> {
    const { excel } = this;
    // As the script itself does: a sync with nothing to carry out asks for nothing, and cannot fail.
    if (this.queue.length === 0 && this.loads.length === 0) {
      return;
    }
    excel.beforeSync?.(excel.syncs.length + 1);
    const [queue, loads] = [this.queue.splice(0), this.loads.splice(0)];
    if (excel.failAt?.sync === excel.syncs.length + 1) {
      const { code } = excel.failAt;
      excel.failAt = undefined;
      excel.syncs.push({ sent: 0, received: 0, calculationSuspended: this.suspended });
      throw new OfficeError(code);
    }
    if (this.sent > REQUEST_LIMIT) {
      throw new OfficeError("RequestPayloadSizeLimitExceeded");
    }
    // Excel carries out the calls in order and stops at the first that fails; what was done stays done.
    queue.forEach((call) => call());
    loads.forEach((load) => load());
    excel.syncs.push({ sent: this.sent, received: this.received, calculationSuspended: this.suspended });
    const received = this.received;
    this.sent = 0;
    this.received = 0;
    this.suspended = false;
    if (received > REQUEST_LIMIT) {
      throw new OfficeError("ResponsePayloadSizeLimitExceeded");
    }
    await Promise.resolve();
  }
}

/** A proxy object: `read` gives a property's value at sync time, `write` queues, `calls` are methods. */
function proxyObject(context: Context, read: (property: string) => any, write: (property: string, value: any) => void, calls: Record<string, any>, exists?: () => boolean): any {
  const loaded = new Map<string, any>();
  const isNullObject = { known: false, value: false };
  if (exists) {
    context.loads.unshift(() => {
      isNullObject.known = true;
      isNullObject.value = !exists();
    });
  }
  return new Proxy(
    {},
    {
      get(_, property: string) {
        if (property === "then" || property === "toJSON") {
          return undefined;
        }
        if (property === "context") {
          return context;
        }
        if (property === "load") {
          return (text: string) => {
            if (typeof text !== "string" || text.trim() === "") {
              throw new OfficeError("InvalidArgument", "load needs property names");
            }
            context.loads.push(() => {
              if (exists && !exists()) {
                return;
              }
              for (const path of text.split(",").map((part) => part.trim())) {
                const value = read(path);
                context.received += size(value);
                loaded.set(path, value);
              }
            });
          };
        }
        if (property === "isNullObject") {
          if (!isNullObject.known) {
            throw new OfficeError("PropertyNotLoaded", "isNullObject is known after a sync");
          }
          return isNullObject.value;
        }
        if (property in calls) {
          return calls[property];
        }
        if (loaded.has(property)) {
          return loaded.get(property);
        }
        const nested = [...loaded.keys()].filter((key) => key.startsWith(`${property}/`));
        if (nested.length > 0 && property !== "items") {
          return Object.fromEntries(nested.map((key) => [key.slice(property.length + 1), loaded.get(key)]));
        }
        if (property === "items" && nested.length > 0) {
          return loaded.get(nested[0]!);
        }
        throw new OfficeError("PropertyNotLoaded", `${property} was not loaded`);
      },
      set(_, property: string, value) {
        context.sent += size(value);
        const copy = structuredClone(value);
        context.queue.push(() => write(property, copy));
        return true;
      },
    },
  );
}

function size(value: any): number {
  return JSON.stringify(value)?.length ?? 4;
}

function refuse(what: string): never {
  throw new Error(`the fake does not model ${what}`);
}

function workbookProxy(context: Context): any {
  const store = context.excel.workbook;
  const worksheets = proxyObject(
    context,
    (property) => (property === "items/name" ? [...store.sheets.keys()].map((name) => ({ name, shapes: sheetProxy(context, name).shapes })) : refuse(property)),
    refuse,
    {
      getItem: (name: string) => sheetProxy(context, name),
      getItemOrNullObject: (name: string) => sheetProxy(context, name, true),
      add: (name: string) => {
        context.queue.push(() => {
          if ([...store.sheets.keys()].some((taken) => taken.toLowerCase() === name.toLowerCase())) {
            throw new OfficeError("ItemAlreadyExists");
          }
          store.sheets.set(name, new Map());
        });
        return sheetProxy(context, name);
      },
      onCalculated: handlers(context, store.changeHandlers),
      onChanged: handlers(context, store.changeHandlers),
    },
  );
  const tables = proxyObject(
    context,
    (property) => (property === "items/name" ? [...store.tables.keys()].map((name) => tableProxy(context, () => name, name)) : refuse(property)),
    refuse,
    {
      getItem: (name: string) => tableProxy(context, () => name),
      getItemOrNullObject: (name: string) => tableProxy(context, () => name, undefined, true),
      add: (range: any, hasHeaders: boolean) => {
        const place = range.place as Place;
        let name = `Table${store.tables.size + 1}`;
        context.queue.push(() => {
          if (!hasHeaders || place.rows < 2) {
            throw new OfficeError("InvalidArgument");
          }
          store.tables.set(name, { ...place });
        });
        return tableProxy(context, () => name, undefined, false, (next) => {
          store.tables.set(next, store.tables.get(name)!);
          store.tables.delete(name);
          name = next;
        });
      },
    },
  );
  const names = {
    getItem: (name: string) => nameProxy(context, name),
    getItemOrNullObject: (name: string) => nameProxy(context, name),
    add: (name: string, range: any) => {
      context.queue.push(() => store.names.set(name, `=${address(range.place as Place)}`));
    },
  };
  const application = proxyObject(context, (property) => (property === "calculationState" ? store.calculationState : refuse(property)), refuse, {
    suspendApiCalculationUntilNextSync: () => {
      context.suspended = true;
    },
    calculate: () => {},
  });
  return {
    worksheets,
    tables,
    names,
    application,
    getActiveCell: () => rangeProxy(context, () => ({ ...store.active, rows: 1, columns: 1 })),
    onSelectionChanged: handlers(context, store.selectionHandlers),
  };
}

function handlers(context: Context, set: Set<(event: any) => Promise<any>>): any {
  return {
    add: (handler: (event: any) => Promise<any>) => {
      context.queue.push(() => set.add(handler));
      return { context, remove: () => set.delete(handler) };
    },
  };
}

interface Place {
  sheet: string;
  row: number;
  column: number;
  rows: number;
  columns: number;
}

function sheetProxy(context: Context, name: string, orNull = false): any {
  const store = context.excel.workbook;
  return proxyObject(
    context,
    (property) => (property === "name" ? name : refuse(property)),
    refuse,
    {
      getRangeByIndexes: (row: number, column: number, rows: number, columns: number) => rangeProxy(context, () => ({ sheet: name, row, column, rows, columns })),
      getUsedRangeOrNullObject: () => {
        const used = (): Place | undefined => {
          let [rows, columns] = [0, 0];
          for (const [key, value] of store.sheet(name)) {
            if (value !== "") {
              const [row, column] = key.split(",").map(Number) as [number, number];
              rows = Math.max(rows, row + 1);
              columns = Math.max(columns, column + 1);
            }
          }
          return rows === 0 ? undefined : { sheet: name, row: 0, column: 0, rows, columns };
        };
        return rangeProxy(context, () => used()!, () => used() !== undefined);
      },
      delete: () =>
        context.queue.push(() => {
          store.sheets.delete(name);
          store.pictures = store.pictures.filter(({ sheet }) => sheet !== name);
          [...store.tables].filter(([, table]) => table.sheet === name).forEach(([table]) => store.tables.delete(table));
        }),
      activate: () => context.queue.push(() => void (store.active = { ...store.active, sheet: name })),
      freezePanes: { freezeRows: () => {} },
      shapes: {
        addImage: (base64: string) => {
          const picture: FakePicture = { sheet: name, base64, altText: "", name: "" };
          context.queue.push(() => store.pictures.push(picture));
          return proxyObject(context, refuse, (property, value) => (property === "altTextDescription" ? (picture.altText = value) : property === "name" ? (picture.name = value) : undefined), {});
        },
        load: () => {},
        get items() {
          return store.pictures
            .filter((picture) => picture.sheet === name)
            .map((picture) => ({
              name: picture.name, left: 0, top: 0, width: 1, height: 1, altTextDescription: picture.altText,
              getAsImage: () => ({ value: picture.base64 }),
              delete: () => context.queue.push(() => void (store.pictures = store.pictures.filter((other) => other !== picture))),
            }));
        },
      },
    },
    orNull ? () => store.sheets.has(name) : undefined,
  );
}

function rangeProxy(context: Context, place: () => Place, exists?: () => boolean): any {
  const store = context.excel.workbook;
  const grid = (map: (value: any, row: number, column: number) => any) => {
    const at = place();
    return Array.from({ length: at.rows }, (_, row) => Array.from({ length: at.columns }, (_, column) => map(store.get(at.sheet, at.row + row, at.column + column), row, column)));
  };
  const target = proxyObject(
    context,
    (property) => {
      const at = place();
      switch (property) {
        case "values":
        case "formulas":
          return grid((value) => value);
        case "valueTypes":
          return grid((value) => (typeof value === "number" ? "Double" : typeof value === "boolean" ? "Boolean" : value === "" ? "Empty" : /^#(N\/A|VALUE!|REF!|NAME\?|NUM!|DIV\/0!|SPILL!|BUSY!)$/.test(value) ? "Error" : "String"));
        case "rowIndex":
          return at.row;
        case "columnIndex":
          return at.column;
        case "rowCount":
          return at.rows;
        case "columnCount":
          return at.columns;
        case "worksheet/name":
          return at.sheet;
        case "address":
          return address(at).replaceAll("$", "");
        case "left":
        case "top":
          return 0;
        default:
          return refuse(property);
      }
    },
    (property, value) => {
      if (property === "formulas") {
        const at = place();
        if (value.length !== at.rows || value.some((line: any[]) => line.length !== at.columns)) {
          throw new OfficeError("InvalidArgument", "the array has another size than the range");
        }
        value.forEach((line: any[], row: number) =>
          line.forEach((cell, column) => {
            if (cell !== null) {
              context.excel.onWrite?.({ sheet: at.sheet, row: at.row + row, column: at.column + column });
            }
            store.set(at.sheet, at.row + row, at.column + column, cell);
          }),
        );
      } else if (property === "columnHidden") {
        const at = place();
        for (let column = at.column; column < at.column + at.columns; column += 1) {
          const name = `${at.sheet}!${column}`;
          if (value) {
            store.hidden.add(name);
          } else {
            store.hidden.delete(name);
          }
        }
      } else if (property !== "numberFormat") {
        refuse(property);
      }
    },
    {
      format: { font: {}, fill: {} },
      getEntireColumn: () => rangeProxy(context, place),
      getSpillParentOrNullObject: () => rangeProxy(context, place, () => false),
      select: () => context.queue.push(() => void (store.active = { sheet: place().sheet, row: place().row, column: place().column })),
      get place() {
        return place();
      },
    },
    exists,
  );
  return target;
}

function tableProxy(context: Context, name: () => string, knownName?: string, orNull = false, rename?: (next: string) => void): any {
  const store = context.excel.workbook;
  const stored = (): StoredTable => {
    const table = store.tables.get(name());
    if (!table) {
      throw new OfficeError("ItemNotFound");
    }
    return table;
  };
  return proxyObject(
    context,
    (property) => (property === "name" ? name() : refuse(property)),
    (property, value) => (property === "name" && rename ? rename(value) : refuse(property)),
    {
      ...(knownName === undefined ? {} : { name: knownName }),
      getRange: () => rangeProxy(context, stored),
      getHeaderRowRange: () => rangeProxy(context, () => ({ ...stored(), rows: 1 })),
      resize: (range: any) => {
        const next = range.place as Place;
        context.queue.push(() => store.tables.set(name(), { ...stored(), rows: next.rows, columns: next.columns }));
      },
      convertToRange: () => context.queue.push(() => store.tables.delete(name())),
      rows: {
        getItemAt: (index: number) => ({
          delete: () =>
            context.queue.push(() => {
              const table = stored();
              for (let row = table.row + 1 + index; row < table.row + table.rows; row += 1) {
                for (let column = table.column; column < table.column + table.columns; column += 1) {
                  store.sheet(table.sheet).set(`${row},${column}`, store.get(table.sheet, row + 1, column));
                }
              }
              store.tables.set(name(), { ...table, rows: table.rows - 1 });
            }),
        }),
      },
    },
    orNull ? () => store.tables.has(name()) : undefined,
  );
}

function nameProxy(context: Context, name: string): any {
  const store = context.excel.workbook;
  const place = (): Place => placeOf(store.names.get(name)!);
  return proxyObject(
    context,
    (property) => (property === "formula" ? store.names.get(name) : refuse(property)),
    (property, value) => (property === "formula" ? store.names.set(name, value) : refuse(property)),
    {
      getRangeOrNullObject: () => rangeProxy(context, place, () => store.names.has(name)),
      delete: () => context.queue.push(() => store.names.delete(name)),
    },
    () => store.names.has(name),
  );
}

function address(place: Place): string {
  const quoted = /^\w+$/.test(place.sheet) ? place.sheet : `'${place.sheet.replaceAll("'", "''")}'`;
  return `${quoted}!$${letters(place.column)}$${place.row + 1}:$${letters(place.column + place.columns - 1)}$${place.row + place.rows}`;
}

function placeOf(formula: string): Place {
  const match = /^=(?:'((?:[^']|'')+)'|(\w+))!\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?$/.exec(formula);
  if (!match) {
    throw new OfficeError("InvalidReference", formula);
  }
  const sheet = match[1]?.replaceAll("''", "'") ?? match[2]!;
  const [column, row] = [number(match[3]!), Number(match[4]) - 1];
  return { sheet, row, column, rows: match[6] ? Number(match[6]) - row : 1, columns: match[5] ? number(match[5]) - column + 1 : 1 };
}

function letters(column: number): string {
  return column < 26 ? String.fromCharCode(65 + column) : letters(Math.floor(column / 26) - 1) + letters(column % 26);
}

function number(text: string): number {
  return [...text].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}
