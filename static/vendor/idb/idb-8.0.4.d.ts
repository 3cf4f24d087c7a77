// What our code uses of idb, for the type check alone; no browser asks for this file.
interface Stored<T> {
  get(key: IDBValidKey): Promise<T | undefined>;
  put(value: T, key?: IDBValidKey): Promise<IDBValidKey>;
  delete(key: IDBValidKey): Promise<void>;
}

export interface Opened<Stores> {
  createObjectStore(name: keyof Stores & string, options?: IDBObjectStoreParameters): IDBObjectStore;
  get<Name extends keyof Stores & string>(name: Name, key: IDBValidKey): Promise<Stores[Name] | undefined>;
  put<Name extends keyof Stores & string>(name: Name, value: Stores[Name], key?: IDBValidKey): Promise<IDBValidKey>;
  delete(name: keyof Stores & string, key: IDBValidKey): Promise<void>;
  getAll<Name extends keyof Stores & string>(name: Name, query?: IDBKeyRange): Promise<Stores[Name][]>;
  getAllFromIndex<Name extends keyof Stores & string>(name: Name, index: string, query?: IDBValidKey): Promise<Stores[Name][]>;
  transaction<Name extends keyof Stores & string>(
    name: Name, mode: IDBTransactionMode, options?: IDBTransactionOptions,
  ): { store: Stored<Stores[Name]>; done: Promise<void>; abort(): void };
}

export function openDB<Stores>(
  name: string,
  version: number,
  hooks: { upgrade(db: Opened<Stores>): void; blocking?(from: number, to: number | null, event: IDBVersionChangeEvent): void },
): Promise<Opened<Stores>>;
