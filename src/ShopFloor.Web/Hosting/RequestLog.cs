using Serilog;
using Serilog.Events;

namespace ShopFloor.Web.Hosting;

/// <summary>One line per request with its route instead of its path: paths can carry secrets and names.</summary>
public static class RequestLog
{
    public static void UseRequestLog(this WebApplication app) =>
        app.UseSerilogRequestLogging(o =>
        {
            o.MessageTemplate = "{Method} {Route} {Status} in {Elapsed:0.0} ms";
            o.IncludeQueryInRequestPath = false;
            o.GetMessageTemplateProperties = (context, _, elapsed, status) =>
                [
                    new LogEventProperty("Method", new ScalarValue(context.Request.Method)),
                    new LogEventProperty("Route", new ScalarValue(RouteOf(context))),
                    new LogEventProperty("Status", new ScalarValue(status)),
                    new LogEventProperty("Elapsed", new ScalarValue(elapsed)),
                ];
            o.GetLevel = (context, _, fault) =>
                fault is not null || context.Response.StatusCode >= 500 ? LogEventLevel.Error : LogEventLevel.Debug;
        });

    private static string RouteOf(HttpContext context) => (context.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? "(no route)";
}
