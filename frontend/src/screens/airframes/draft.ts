import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Definition } from '../../domain/place';
import { type Defined, definitionOf, describe } from '../../services/airframe_definition';
import { BLANK, type Description } from '../../services/airframe_rows';
import { type AirframeListed, type Checked, checkDefinition } from '../../services/airframes';
import type { Json, Shop } from '../../services/shop';
import { troubleOf } from '../frame/words';

interface Kept {
  description: Description;
  /** The issue that the draft began from. */
  base: string | null;
}

/** The draft of an airframe under its name in the address, "new" for one that is none yet. */
export function draftName(name: string): string {
  return `airframe:${name}`;
}

export interface Draft {
  description: Description;
  /** Whether it differs from the issue in the book. */
  is_draft: boolean;
  /** SHA-256 of the issue that it began from. */
  base: string | null;
  /** The issue in the book is no longer the one that the draft began from. */
  overtaken: boolean;
  set: (change: Partial<Description>) => void;
  undo: (() => void) | null;
  /** Throws the draft away; UNDO brings it back. */
  discard: () => void;
  /** The draft has become an issue. */
  done: () => Promise<void>;
}

const STEPS = 100;
const TYPING_MS = 700;

/** What is being described: kept in this browser at every key. */
export function useDraft(shop: Shop, name: string, base: Base | null): Draft | null {
  const [kept, setKept] = useState<Kept | null>(null);
  const past = useRef<Kept[]>([]);
  const typed_ms = useRef(0);
  const { session } = shop;
  useEffect(() => {
    past.current = [];
    setKept(null);
    if (!session || !base) return;
    shop.drafts.read<Json>(session, draftName(name)).then(
      (found) => setKept((found as unknown as Kept | null) ?? fresh(base)),
      () => setKept(fresh(base)),
    );
  }, [shop, session?.person, name, base]);
  if (!kept || !base || !session) return null;
  const put = (next: Kept) => {
    setKept(next);
    if (next.description === base.description) void shop.drafts.clear(session, draftName(name));
    else void shop.drafts.write(session, draftName(name), next as unknown as Json);
  };
  const step = (next: Kept) => {
    // Letters typed in one go are one step back.
    if (Date.now() - typed_ms.current > TYPING_MS)
      past.current = [...past.current.slice(-STEPS), kept];
    typed_ms.current = Date.now();
    put(next);
  };
  const back = () => {
    typed_ms.current = 0;
    put(past.current.pop() as Kept);
  };
  const is_draft = kept.description !== base.description;
  return {
    description: kept.description,
    is_draft,
    base: kept.base,
    overtaken: is_draft && kept.base !== base.sha256,
    set: (change) => step({ ...kept, description: { ...kept.description, ...change } }),
    undo: past.current.length === 0 ? null : back,
    discard: () => {
      past.current = [...past.current.slice(-STEPS), kept];
      setKept(fresh(base));
      void shop.drafts.clear(session, draftName(name));
    },
    done: () => shop.drafts.clear(session, draftName(name)),
  };
}

export interface Base {
  description: Description;
  sha256: string | null;
}

function fresh(base: Base): Kept {
  return { description: base.description, base: base.sha256 };
}

/** The issue in the book as rows; a new airframe begins with nothing. */
export function useBase(shop: Shop, listed: AirframeListed | null): Found<Base> {
  const [found, setFound] = useState<Found<Base>>({});
  const sha256 = listed?.definition?.sha256 ?? null;
  useEffect(() => {
    if (!listed) {
      unitOfBook(shop).then((unit) =>
        setFound({ value: { description: { ...BLANK, unit }, sha256: null } }),
      );
      return;
    }
    setFound({});
    definitionIn(shop, listed).then(
      (definition) => setFound({ value: { description: nextIssue(definition), sha256 } }),
      (error) => setFound({ problem: troubleOf(error).what }),
    );
  }, [shop, listed?.record, sha256]);
  return found;
}

/** The workshop's unit: what a new airframe is described in until somebody says otherwise. */
async function unitOfBook(shop: Shop): Promise<'in' | 'mm'> {
  const [book] = await shop.book.records('book').catch(() => []);
  return book?.unit === 'mm' ? 'mm' : 'in';
}

export interface Found<T> {
  value?: T;
  problem?: string;
}

async function definitionIn(shop: Shop, listed: AirframeListed): Promise<Definition> {
  const sha256 = listed.definition?.sha256;
  const here = sha256 ? await shop.files.json(sha256).catch(() => null) : null;
  if (here) return here as unknown as Definition;
  return shop.api.get<Json>(
    `/api/airframes/${listed.record}/definition.json`,
  ) as unknown as Definition;
}

/** What is described next is the next issue. */
function nextIssue(definition: Definition): Description {
  const description = describe(definition);
  const { issue } = description;
  return { ...description, issue: /^\d+$/.test(issue) ? String(Number(issue) + 1) : issue };
}

const SETTLE_MS = 350;

export interface CheckState {
  checked: Checked | null;
  /** Why nothing could be checked. */
  away: string | null;
  waiting: boolean;
}

/** Says which issue it follows, so that one which came meanwhile is not passed over. */
function replacing(defined: Defined, base: string | null): Defined {
  if (base === null) return defined;
  return { ...defined, definition: { ...defined.definition, replaces: base } as Definition };
}

/** The definition of a description, and what the server says of it once nothing was typed for a moment. */
export function useChecked(shop: Shop, draft: Draft | null, airframe: string | null) {
  const { description = null, base = null } = draft ?? {};
  const defined = useMemo(
    () => description && replacing(definitionOf(description), airframe ? base : null),
    [description, base, airframe],
  );
  const [state, setState] = useState<CheckState>({ checked: null, away: null, waiting: true });
  const asked = useRef(0);
  useEffect(() => {
    if (!defined) return;
    setState((last) => ({ ...last, waiting: true }));
    const turn = ++asked.current;
    const tell = (next: CheckState) => turn === asked.current && setState(next);
    const timer = setTimeout(() => {
      checkDefinition(shop.api, defined.definition, airframe).then(
        (checked) => tell({ checked, away: null, waiting: false }),
        (error) => tell({ checked: null, away: troubleOf(error).what, waiting: false }),
      );
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [shop, defined, airframe]);
  return { defined, ...state };
}
