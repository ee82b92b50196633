/** The same places moved no more than needed to stand `gap` apart within [least, most]; order kept. */
export function spread(wished: number[], gap: number, least: number, most: number): number[] {
  const places: number[] = [];
  wished.forEach((place, at) => {
    places.push(Math.max(place, at === 0 ? least : (places[at - 1] ?? least) + gap));
  });
  for (let at = places.length - 1; at >= 0; at -= 1) {
    const ceiling = at === places.length - 1 ? most : (places[at + 1] ?? most) - gap;
    places[at] = Math.min(places[at] ?? most, ceiling);
  }
  return places;
}
