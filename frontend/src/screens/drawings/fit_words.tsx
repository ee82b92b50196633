import { ErrorFrame } from '../../furniture';
import { errorWords } from './known';
import type { Fit } from './use_fit';

/** What the fit is worth: residual, the check point against its limit, and what is to be said. */
export function FitWords({ fit, unit, least }: { fit: Fit; unit: string; least: number }) {
  const { fitted, trouble, waiting } = fit;
  if (trouble) return <ErrorFrame title={trouble.what} text={trouble.todo} />;
  if (!fitted)
    return (
      <p class="part-hint" role="status">
        {waiting
          ? 'Fitting …'
          : `Touch ${least} known points at least; one more tells how well they agree.`}
      </p>
    );
  const refused = fitted.troubles.filter(({ weight }) => weight === 'refused');
  const said = fitted.troubles.filter(({ weight }) => weight === 'said');
  return (
    <div class="fit-words" role="status">
      <dl class="fit-figures">
        <Figure name="Fit" value={fitted.method} />
        <Figure name="Residual, rms" value={errorWords(fitted.rms, unit)} />
        <Figure
          name="Check point"
          value={fitted.check_error === null ? 'none' : errorWords(fitted.check_error, unit)}
        />
        <Figure name="Its limit" value={errorWords(fitted.limit, unit)} />
      </dl>
      {refused.map((one) => (
        <ErrorFrame key={one.code} title={one.message} text={one.hint} />
      ))}
      {said.map((one) => (
        <p key={one.code} class="fit-said">
          <b>{one.message}</b> {one.hint}
        </p>
      ))}
    </div>
  );
}

function Figure({ name, value }: { name: string; value: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value}</dd>
    </div>
  );
}
