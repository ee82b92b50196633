import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { DeskKey, ErrorFrame, Question } from '../../furniture';
import type { useTrouble } from '../frame/trouble';

/** What is asked before something is changed at the server: its lines, one main key, the way back. */
export function AskedForm(props: {
  title: string;
  text: string;
  /** What the main key does. */
  label: string;
  second?: string | undefined;
  /** What is still lacking before it can be done. */
  lacks: string | undefined;
  asked: Pick<ReturnType<typeof useTrouble>, 'busy' | 'trouble'>;
  onDone: () => void;
  onBack: () => void;
  /** A further key between the main one and the way back. */
  more?: ComponentChildren;
  children: ComponentChildren;
}) {
  const { busy, trouble } = props.asked;
  return (
    <Question
      title={props.title}
      text={props.text}
      keys={
        <>
          <DeskKey
            label={props.label}
            kind="main"
            second={props.second}
            unavailable={busy ? 'a moment …' : props.lacks}
            onPress={props.onDone}
          />
          {props.more}
          <DeskKey label="BACK" onPress={props.onBack} />
        </>
      }
    >
      <Opened>
        {props.children}
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      </Opened>
    </Question>
  );
}

/** The lines of a form just opened: it comes into view with its first line ready. */
function Opened({ children }: { children: ComponentChildren }) {
  const lines = useRef<HTMLDivElement>(null);
  useEffect(() => {
    lines.current?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
    lines.current?.closest('.strip')?.scrollIntoView({ block: 'nearest' });
  }, []);
  return (
    <div class="people-form" ref={lines}>
      {children}
    </div>
  );
}
