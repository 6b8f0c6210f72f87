var app = WebApplication.CreateBuilder(args).Build();
app.MapGet("/", () => "ShopFloor");
app.Run();

/// <summary>The web host; public so that tests can start it.</summary>
public partial class Program;
