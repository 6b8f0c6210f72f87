using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Hosting;

/// <summary>Whatever a request ends at because nothing can be written, it is answered in words and not as a fault of the program.</summary>
public static partial class CannotWriteWords
{
    public static void UseCannotWriteWords(this WebApplication app) =>
        app.Use(
            async (context, next) =>
            {
                try
                {
                    await next(context);
                }
                catch (Exception barred) when (!context.Response.HasStarted && CannotWrite.Of(barred) is not null)
                {
                    LogBarred(app.Logger, barred, context.Request.Path);
                    var words = context.RequestServices.GetRequiredService<Spoken>()[CannotWrite.Of(barred)!.Text];
                    context.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
                    context.Response.ContentType = "text/plain; charset=utf-8";
                    await context.Response.WriteAsync(words, context.RequestAborted);
                }
            }
        );

    [LoggerMessage(Level = LogLevel.Error, Message = "{Path} ended because nothing can be written")]
    private static partial void LogBarred(ILogger logger, Exception barred, PathString path);
}
