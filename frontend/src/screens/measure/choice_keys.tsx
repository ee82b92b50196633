import { Key } from '../../furniture';
import type { Json } from '../../services/shop';
import type { Asked } from './asked';
import { EndKeys, type Ends } from './end_keys';

/** Keys for an answer in words: yes or no, or one of a few. */
export function ChoiceKeys(
  props: Ends & {
    asked: Asked;
    value: Json | undefined;
    next: string;
    onAnswer: (value: Json) => void;
    onNext: () => void;
  },
) {
  const { asked, value } = props;
  const answers: { label: string; value: Json }[] =
    asked.type === 'yes_no'
      ? [
          { label: 'NO', value: false },
          { label: 'YES', value: true },
        ]
      : (asked.choices ?? []).map((choice) => ({
          label: asked.choice_words?.[choice] ?? choice,
          value: choice,
        }));
  return (
    <div class="choice-keys">
      <h2 class="choice-question">{asked.label}?</h2>
      {answers.map((answer) => (
        <Key
          key={answer.label}
          label={answer.label}
          letters={28}
          size="inside"
          chosen={value === answer.value}
          onPress={() => props.onAnswer(answer.value)}
        />
      ))}
      <div class="choice-last">
        <EndKeys {...props} />
        <Key
          label="NEXT ►"
          second={props.next}
          kind="main"
          letters={28}
          size="inside"
          place="choice-next"
          onPress={props.onNext}
        />
      </div>
    </div>
  );
}
