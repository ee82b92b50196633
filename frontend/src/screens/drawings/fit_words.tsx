import { ErrorFrame } from '../../furniture';
import { errorWords, type Fitted } from './known';
import type { Fit } from './use_fit';

/** What the fit is worth, in sight wherever points are touched or typed. */
export function FitFigures({ fit, unit }: { fit: Fit; unit: string }) {
  const { fitted } = fit;
  const check = checkWords(fitted, unit);
  return (
    <dl class="fit-figures">
      <Figure name="Fit" value={fitted?.method ?? (fit.waiting ? 'fitting …' : 'none yet')} />
      <Figure name="Residual, rms" value={fitted ? errorWords(fitted.rms, unit) : '–'} />
      <Figure name="Check point" value={check.value} second={check.second} />
      <Figure name="Its limit" value={fitted ? errorWords(fitted.limit, unit) : '–'} />
    </dl>
  );
}

/** How far off the check point is, and what that says; a fit without one is proved by nothing. */
export function checkWords(
  fitted: Fitted | null,
  unit: string,
): { value: string; second?: string } {
  if (!fitted) return { value: '–' };
  if (fitted.check_error === null)
    return { value: 'none', second: 'add one: nothing proves the fit' };
  const value = errorWords(fitted.check_error, unit);
  return {
    value,
    second: fitted.check_error > fitted.limit ? 'over its limit' : 'within its limit',
  };
}

/** What is to be said of a fit, and what stands in its way. */
export function FitWords({ fit, least }: { fit: Fit; least: number }) {
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

function Figure(props: { name: string; value: string; second?: string | undefined }) {
  return (
    <div>
      <dt>{props.name}</dt>
      <dd>{props.value}</dd>
      {props.second && <dd class="fit-second">{props.second}</dd>}
    </div>
  );
}
