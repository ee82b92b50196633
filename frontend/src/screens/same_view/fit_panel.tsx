import type { Pair } from './pair';

/** How the pictures lie on each other, or which rivet comes next. */
export function FitPanel({ pair }: { pair: Pair }) {
  const { said, touching, registration, comparing, is_kept } = pair;
  const { offer, reason } = registration;
  if (reason)
    return (
      <p class="fit-panel" role="status">
        <strong>The server offers no fit.</strong>
        <span>{`${reason} Touch three rivets in both instead.`}</span>
      </p>
    );
  if (comparing.mode === 'rivets' && touching.trouble)
    return (
      <p class="fit-panel" role="status">
        <strong>No fit from these rivets.</strong>
        <span>{touching.trouble}</span>
      </p>
    );
  if (!said) return <p class="fit-panel">{comparing.mode === 'rivets' && nextWords(pair)}</p>;
  return (
    <p class={said.good ? 'fit-panel good' : 'fit-panel'} role="status">
      <strong>{said.head}</strong>
      <span>{offer ? offer.words : said.verdict}</span>
      <span>{`${said.more}${is_kept || offer ? '' : ' · not kept yet'}`}</span>
    </p>
  );
}

function nextWords({ touching, earlier }: Pair): string {
  if (!earlier) return '';
  const { which, at } = touching.active;
  const picture = which === 'here' ? 'the picture of now' : 'the earlier picture';
  return `Touch rivet ${at + 1} in ${picture}, then step it to its middle. Three far apart fit best.`;
}
