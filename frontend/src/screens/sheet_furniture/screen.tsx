import { Pictures, Views } from './drawings.tsx';
import { Colours, Grades, Rivets, Stamps, States } from './signs.tsx';
import { Strips } from './words.tsx';
import { Borders, Keys, Lists, Pad } from './working.tsx';
import './sheet_furniture.css';

/** Every part of the drawing sheet, in both lights side by side. A page for whoever builds screens. */
export default function SheetFurniture() {
  return (
    <main class="parts">
      <h1 class="spoken">Parts of the drawing sheet</h1>
      <Side light="outside" title="Outside" where="sun and shop" />
      <Side light="inside" title="Inside" where="dark, in the structure" />
    </main>
  );
}

function Side({ light, title, where }: { light: string; title: string; where: string }) {
  return (
    <section class="parts-side" data-light={light} aria-label={title}>
      <div class="parts-title">
        <h2>{title}</h2>
        <span>{where}</span>
      </div>
      <Colours />
      <Grades />
      <States />
      <Rivets />
      <Stamps />
      <Views />
      <Keys />
      <Pad />
      <Borders side={light} />
      <Lists />
      <Pictures />
      <Strips />
    </section>
  );
}
