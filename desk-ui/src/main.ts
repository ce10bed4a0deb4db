import { mount } from 'svelte';
import './desk.css';
import Desk from './Desk.svelte';

const target = document.getElementById('desk');
if (!target) throw new Error('index.html has no element with id "desk"');
mount(Desk, { target });
