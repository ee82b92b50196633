import { useState } from 'preact/hooks';
import { Key } from '../../furniture';
import { EndKeys, type Ends } from './end_keys';

export interface KindListed {
  kind: string;
  label: string;
  commonest?: number;
}

/** The eight commonest kinds as large keys, and a ninth for the rest. */
export function KindKeys(
  props: Ends & {
    kinds: readonly KindListed[];
    onKind: (kind: string) => void;
  },
) {
  const [all, setAll] = useState(false);
  const commonest = props.kinds
    .filter((one) => one.commonest !== undefined)
    .sort((one, other) => (one.commonest ?? 0) - (other.commonest ?? 0))
    .slice(0, 8);
  const rest = props.kinds.filter((one) => !commonest.includes(one) && one.kind !== 'nil');
  return (
    <div class="kind-keys">
      {(all ? rest : commonest).map((one) => (
        <Key
          key={one.kind}
          label={one.label}
          size={all ? 'desk' : 'inside'}
          onPress={() => props.onKind(one.kind)}
        />
      ))}
      <Key
        label={all ? 'COMMONEST' : 'OTHER KINDS'}
        second={all ? 'the eight' : `${rest.length} more`}
        size={all ? 'desk' : 'inside'}
        onPress={() => setAll(!all)}
      />
      <div class="kind-last">
        <EndKeys {...props} />
      </div>
    </div>
  );
}
