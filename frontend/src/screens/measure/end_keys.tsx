import { Key } from '../../furniture';

export interface Ends {
  undo: { second: string; unavailable: string | undefined };
  onUndo: () => void;
  onTouchOff: () => void;
}

/** What stands first in the last row of every page of keys: TOUCH OFF, then UNDO. */
export function EndKeys({ undo, onUndo, onTouchOff }: Ends) {
  return (
    <>
      <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={onTouchOff} />
      <Key label="UNDO" {...undo} kind="undo" size="inside" onPress={onUndo} />
    </>
  );
}
