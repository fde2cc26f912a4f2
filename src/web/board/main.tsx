import { render } from 'preact';
import { ChoicesAround } from '../parts/choices.tsx';
import { BoardPage } from './board-page.tsx';

render(
  <ChoicesAround>
    <BoardPage />
  </ChoicesAround>,
  document.getElementById('page')!,
);
