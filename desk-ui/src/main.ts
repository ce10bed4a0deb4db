import { mount } from 'svelte';
import './shell/desk.css';
import Desk from './shell/Desk.svelte';

const target = document.getElementById('desk');
if (!target) throw new Error('index.html has no element with id "desk"');
mount(Desk, { target });
