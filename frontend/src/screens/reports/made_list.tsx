import { Key } from '../../furniture';
import { isUnderWay, type Job, sizeWords } from './jobs';
import { counted } from './zones';

/** Reports made, being made and waiting, the newest first. */
export function MadeList(props: {
  jobs: readonly Job[];
  onFetch: (job: Job) => void;
  onCancel: (job: Job) => void;
}) {
  if (props.jobs.length === 0)
    return <p class="made-none">No report was made on this server yet.</p>;
  return (
    <ul class="made-list" aria-label="Reports made">
      {props.jobs.map((job) => (
        <li key={job.id} class="made-row">
          <Told job={job} />
          {job.state === 'done' && (
            <Key
              size="small"
              label="FETCH"
              second="PDF"
              spoken={`FETCH PDF: report of zone ${job.zone}`}
              onPress={() => props.onFetch(job)}
            />
          )}
          {isUnderWay(job) && (
            <Key
              size="small"
              label="CANCEL"
              spoken={`CANCEL the report of zone ${job.zone}`}
              onPress={() => props.onCancel(job)}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

function Told({ job }: { job: Job }) {
  return (
    <div class="made-told">
      <p>
        <b>Zone {job.zone}</b> {job.title}
      </p>
      <p class="made-second">
        {job.asked_at.slice(0, 16).replace('T', ' ')} · {job.asked_by} · {stateWords(job)}
      </p>
      {job.state === 'running' && <Progress job={job} />}
      {job.record_sha256 && job.sha256 && (
        <p class="made-second">
          Record hash <code>{job.record_sha256.slice(0, 16)}</code>, file{' '}
          <code>{job.sha256.slice(0, 16)}</code>, data up to entry {job.seq}
        </p>
      )}
      {job.trouble && (
        <p class="made-trouble">
          {job.trouble.message} {job.trouble.hint}
        </p>
      )}
    </div>
  );
}

function Progress({ job }: { job: Job }) {
  const { step } = job;
  if (!step) return null;
  const counted_ = step.of > 0 ? { value: step.done, max: step.of } : {};
  return (
    <div class="made-progress">
      <progress aria-label={`Report of zone ${job.zone}`} {...counted_} />
      <span>{step.words}</span>
    </div>
  );
}

function stateWords(job: Job): string {
  switch (job.state) {
    case 'waiting':
      return 'waits for the one before it';
    case 'running':
      return 'being made';
    case 'failed':
      return 'not made';
    case 'cancelled':
      return 'cancelled';
    case 'done':
      return `${counted(job.sheets ?? 0, 'sheet')}, ${sizeWords(job.size_bytes ?? 0)}, draft`;
  }
}
