import { Empty, ErrorFrame, Loading, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps, Shop } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useDeskTitle } from '../frame/title';
import { type Standing, useDraft, useStanding, useTold } from './draft';
import { Issue, whyNot } from './issue';
import { Rows } from './rows';
import './screen.css';

/** Reached by TAB, so that the arrow keys roll it. */
const SCROLLED = { tabIndex: 0 };

/** The limits that grades come from, row by row with their sources, and the next issue of them. */
export default function Standards({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Standard of acceptance');
  const { standing, problem, again } = useStanding(shop);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/standards" go={go} />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {standing && <Standard {...{ shop, standing }} onIssued={again} />}
      {!standing && problem && (
        <ErrorFrame title={problem} text="Sign in with the server in reach." />
      )}
      {!standing && !problem && <Loading what="The standard" />}
    </Sheet>
  );
}

function Standard(props: { shop: Shop; standing: Standing; onIssued: () => Promise<void> }) {
  const { shop, standing } = props;
  const draft = useDraft(shop, standing);
  const told = useTold(shop, draft?.made, draft?.is_draft === true);
  if (!draft) return <Loading what="The standard" />;
  const { file } = standing;
  return (
    <div class="standard">
      <section class="standard-body" aria-label="Rows" {...SCROLLED}>
        <h1>{file ? `${file.name} issue ${file.issue}` : 'Standard of acceptance'}</h1>
        {draft.is_draft && <p class="standard-draft">Draft of issue {draft.made.issue}</p>}
        {draft.made.rows.length === 0 ? (
          <Empty title="No standard of acceptance yet" looked_at>
            Nothing is graded without one. Read the file of one in; the workshop’s own design
            authority sets the limits.
          </Empty>
        ) : (
          <Rows {...{ draft }} may_write={whyNot(shop) === undefined} />
        )}
      </section>
      <Issue {...props} {...{ draft, told }} />
    </div>
  );
}
