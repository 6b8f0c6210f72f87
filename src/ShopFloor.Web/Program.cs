using ShopFloor.Web.Api;
using ShopFloor.Web.Background;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Backups;
using ShopFloor.Web.Office.Books;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Security;
using ShopFloor.Web.Wall;

var builder = WebApplication.CreateBuilder(args);
if (builder.TryAddHost(Console.Error) is not { } settings)
    return SafetyCommands.Refused;
if (SafetyCommands.AreMeant(args))
    return SafetyCommands.Run(args, settings, TimeProvider.System, Console.Out);
builder.Services.AddLive();
builder.Services.AddShop(settings.DataFolder);
builder.Services.AddSecurity(settings);
builder.Services.AddFrame();
builder.Services.AddBackground();
builder.Services.AddWall();
builder.Services.AddCounter();
builder.Services.AddPapers();
builder.Services.AddApi(settings);

var app = builder.Build();
if (!await app.OpenDatabaseAsync(Console.Error))
{
    await app.DisposeAsync();
    return SafetyCommands.Refused;
}
await app.ReapplyErasuresAsync();
await app.OpenDemoAsync();
await app.InstallMissingAsync();
await app.LookAtClockAsync();
await app.PrintSetupCodeAsync();
app.UseFrame(settings);
app.MapFrame();
app.MapBench();
app.MapPapers();
app.MapCounter();
app.MapInvoices();
app.MapPayments();
app.MapBooks();
app.MapBackups();
app.MapSafetySheets();
app.MapLogo();
app.MapInsight();
app.MapApi();
app.MapCalendar();
app.MapExchange();
app.MapOrderLetters();
app.MapOrderTicket();
app.MapOrderProofs();
app.MapPersonExport();
app.GreetOnStart(settings);
await app.RunAsync();
return 0;

/// <summary>The web host; public so that tests can start it.</summary>
public partial class Program;
