// Starts the emulator on the port given.
const TelegramServer = require('telegram-test-api');
const format = TelegramServer.formatUpdate;
TelegramServer.formatUpdate = (update) => {
  const shown = format(update);
  // The emulator leaves out a field that every press has: core.telegram.org/bots/api#callbackquery
  if (shown.callback_query) shown.callback_query.chat_instance = '1';
  return shown;
};
const server = new TelegramServer({ port: Number(process.argv[2]), host: '127.0.0.1' });
server.start().then(() => console.log('listening'));
